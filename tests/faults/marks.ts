import { faultOf } from '../../server/backups/inspect.ts';
import { openDatabase, type Sqlite } from '../../server/plumbing/open-database.ts';
import { pause, type SignedIn } from './signed-in.ts';
import type { Stage } from './storm.ts';

/** One form that leaves a mark, which is found again by its name. */
export type Marked = { name: string; path: string; fields: Record<string, string | string[]> };

/** Notes, checks, splits and orders, one after the other. */
export function* markedForms(stage: Stage, client: number): Generator<Marked> {
  const { cultures, customerId, speciesId } = stage;
  for (let number = 0; ; number += 1) {
    const name = `mark ${client}-${number}.`;
    const culture = cultures[(client + number) % cultures.length]!;
    const at = `/cultures/${culture.code}`;
    const split = { adults: '20', enclosureId: String(culture.enclosureId), despite: ['reserve', 'unsafe'] };
    const kinds: Marked[] = [
      { name, path: `${at}/write`, fields: { kind: 'note', note: name } },
      { name, path: `${at}/split`, fields: { ...split, note: name, reason: 'a storm' } },
      { name, path: `${at}/check`, fields: { note: name, moisture: 'moist' } },
      {
        name,
        path: '/orders',
        fields: { customer: String(customerId), 'species-0': String(speciesId), 'groups-0': '1', note: name },
      },
    ];
    yield kinds[number % kinds.length]!;
  }
}

/** Every mark in the records and how often it is there. */
export function marksIn(sqlite: Sqlite): Map<string, number> {
  const rows = sqlite
    .prepare(
      `SELECT note, count(*) AS n FROM (SELECT note FROM diary UNION ALL SELECT note FROM orders)
       WHERE note LIKE 'mark %' GROUP BY note`,
    )
    .all() as { note: string; n: number }[];
  return new Map(rows.map(({ note, n }) => [note, n]));
}

/** What must hold whatever happened; what is broken, in words. */
export function brokenIn(database: string): string[] {
  const { sqlite } = openDatabase(database);
  try {
    const fault = faultOf(sqlite);
    const half = sqlite
      .prepare(
        `SELECT 'half a split: ' || id FROM diary WHERE kind = 'split' AND other_culture_id NOT IN (SELECT id FROM cultures)
         UNION ALL SELECT 'half a split: ' || code FROM cultures c WHERE origin = 'split' AND taken_back_at IS NULL
           AND (SELECT count(*) FROM diary d WHERE d.kind = 'split' AND d.other_culture_id = c.id) <> 1
         UNION ALL SELECT 'an order without a line: ' || number FROM orders
           WHERE id NOT IN (SELECT order_id FROM order_lines)`,
      )
      .pluck()
      .all() as string[];
    return [...(fault ? [fault] : []), ...half];
  } finally {
    sqlite.close();
  }
}

/** Sends its forms one after the other, and each again until it is taken; keeps what it was told and what was wrong. */
export class Writer {
  readonly acknowledged: string[] = [];
  readonly wrong: string[] = [];
  readonly times: number[] = [];
  /** Answers by status. */
  readonly answers = new Map<number, number>();
  private pending: { form: Marked; key: string } | null = null;

  constructor(
    private readonly who: SignedIn,
    private readonly forms: Generator<Marked>,
  ) {}

  async work(goesOn: () => boolean) {
    while (goesOn() || this.pending) await this.one();
  }

  private async one() {
    this.pending ??= { form: this.forms.next().value as Marked, key: crypto.randomUUID() };
    const { form, key } = this.pending;
    const { status, text, ms } = await this.who.post(form.path, form.fields, key);
    this.answers.set(status, (this.answers.get(status) ?? 0) + 1);
    if (status === 507 || status === 503) {
      if (!/Nothing was saved|try again/i.test(text)) this.wrong.push(`${form.path} ${status} without words`);
      return pause(60);
    }
    this.times.push(ms);
    if (status === 303) this.acknowledged.push(form.name);
    else this.wrong.push(`${form.path} was answered with ${status}: ${text.slice(-400)}`);
    this.pending = null;
  }
}
