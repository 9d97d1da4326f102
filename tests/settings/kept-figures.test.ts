import { describe, expect, it } from 'vitest';
import { business } from '../../server/schema/tables.ts';
import { saveBusiness } from '../../server/settings/queries.ts';
import { tableNames } from '../support/contents.ts';
import { formsOn, type PageForm } from '../support/page-parts.ts';
import { furnishedBench, gets, type Walk } from '../support/walk.ts';

/** A thousand with EDITS=1000. */
const edits = Number(process.env.EDITS ?? 2);

/** What a save may change though nothing was typed: who saved when, and how often. */
const told = /(^|_)(at|by|on|version|key|hash)$/;
const workedOut = ['culture_estimates', 'estimate_points', 'estimate_states', 'climate_days'];
const notFigures = [
  ...workedOut,
  'audit',
  'form_keys',
  'sessions',
  'sign_in_tries',
  'link_asks',
  'known_devices',
];

/** Every number that is stored, by table, row and column. */
function figures({ sqlite }: Walk): Map<string, number> {
  const found = new Map<string, number>();
  for (const table of tableNames(sqlite).filter((name) => !notFigures.includes(name))) {
    const rows = sqlite.prepare(`SELECT * FROM "${table}"`).all() as Record<string, unknown>[];
    for (const [i, row] of rows.entries())
      for (const [column, value] of Object.entries(row))
        if (typeof value === 'number' && !told.test(column))
          found.set(`${table}.${column} of row ${i}`, value);
  }
  return found;
}

/** Figures as a scale or a thermometer gives them: whole in no unit. What a rule of the database forbids stays. */
function makeOdd({ sqlite }: Walk) {
  for (const table of tableNames(sqlite).filter((name) => !notFigures.includes(name))) {
    const columns = sqlite
      .prepare(`SELECT name FROM pragma_table_info('${table}') WHERE type = 'REAL'`)
      .all();
    for (const { name } of columns as { name: string }[])
      try {
        sqlite.exec(`UPDATE "${table}" SET "${name}" = "${name}" * 1.01371`);
      } catch (error) {
        if (!String((error as { code?: string }).code).startsWith('SQLITE_CONSTRAINT')) throw error;
      }
  }
}

/** Pages whose form shows what is kept, to be changed. */
const editing =
  /edit$|habits$|carriers$|counting$|settings\/|cups|recipes|development$|detection$|care$|offers$|label-sheets\/\d/;

const isFilled = (fields: PageForm['fields']) =>
  Object.entries(fields).some(([name, value]) => name !== 'version' && /^[-\d.,]+$/.test(String(value)));

/** The forms of a page without what only its other buttons would send. */
function formsOf(text: string, page: string): PageForm[] {
  const buttons = [...text.matchAll(/<button[^>]* name="([^"]+)"/g)].map(([, name]) => name ?? '');
  const forms = formsOn(text, page).filter(({ method, files }) => method === 'post' && !files);
  for (const { fields } of forms) for (const name of buttons) delete fields[name];
  return forms.filter(({ fields }) => isFilled(fields));
}

async function editForms(t: Walk) {
  const pages = [...gets(t).map((address) => t.at(address)), '/feeders/2/edit'];
  const found: { page: string; action: string }[] = [];
  // Species 1 is no feeder yet; of an order's empty lines `formsOn` would choose a species.
  const others = (one: string) =>
    editing.test(one) && !['/feeders/1/edit', '/orders/1/edit'].includes(one) && !one.endsWith('/new');
  for (const page of pages.filter(others)) {
    const { text, headers } = await t.owner.get(page);
    if (!headers['content-type']?.startsWith('text/html')) continue;
    found.push(...formsOf(text, page).map(({ action }) => ({ page, action })));
  }
  return found;
}

async function saveAgain(t: Walk, page: string, action: string): Promise<number> {
  const { text } = await t.owner.get(page);
  const form = formsOf(text, page).find((one) => one.action === action);
  return form ? (await t.owner.post(action, form.fields)).status : 0;
}

describe('figures that nobody changed', () => {
  it.each([
    ['metric', Math.ceil(edits / 2)],
    ['us', edits],
  ] as const)(
    'in %s units are the same after every form was saved %i times',
    { timeout: 3_600_000 },
    async (units, times) => {
      const t = await furnishedBench();
      const kept = t.db.select().from(business).get();
      if (!kept) throw new Error('no business');
      saveBusiness(t.db, { ...kept, units }, t.clock.now());
      makeOdd(t);
      const before = figures(t);
      const wrong: string[] = [];
      let saved = 0;
      for (const { page, action } of await editForms(t)) {
        for (let i = 0; i < times; i += 1) {
          const status = await saveAgain(t, page, action);
          if (status === 303) saved += 1;
          else wrong.push(`${page} to ${action}: answer ${status}`);
        }
        for (const [name, value] of figures(t))
          if (before.has(name) && before.get(name) !== value) {
            wrong.push(`${page}: ${name} was ${before.get(name)}, is ${value}`);
            before.set(name, value);
          }
      }
      expect([...new Set(wrong)]).toEqual([]);
      expect(saved).toBeGreaterThan(20 * times);
    },
  );
});
