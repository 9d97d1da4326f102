import type { Lineage, LineageCulture } from '../../shared/lines/form.ts';
import { type Quarter, type SizedAddition, sizesOf } from '../../shared/lines/page-sizes.ts';
import type { AdditionRow, CultureRow, LineageRows, QuarterRow } from './queries-lineage.ts';

export type LineageMember = { id: number; code: string; isKept: boolean; median: number | null };

/** What was left out because it cannot be: an addition from a culture that was not there yet. */
export type LeftOut = { code: string; why: string };

export type GatheredLineage = {
  lineage: Lineage;
  /** The cultures of `lineage`, in its order. */
  members: LineageMember[];
  leftOut: LeftOut[];
};

function byCulture<Row extends { culture_id: number }>(rows: readonly Row[]): Map<number, Row[]> {
  const found = new Map<number, Row[]>();
  for (const row of rows) {
    const own = found.get(row.culture_id);
    if (own) own.push(row);
    else found.set(row.culture_id, [row]);
  }
  return found;
}

/** Which cultures matter to those that are kept: they themselves, and all whose animals went into them. */
function relevant(rows: Iterable<CultureRow>, sources: Map<number, number[]>): Set<number> {
  const found = new Set([...rows].filter(({ status }) => status !== 'retired').map(({ id }) => id));
  // The set grows while it is walked.
  for (const id of found) for (const source of sources.get(id) ?? []) found.add(source);
  return found;
}

function whyUnsound(addition: AdditionRow, rows: Map<number, CultureRow>, asOf: string): string | null {
  const { from_id, on_day } = addition;
  const from = rows.get(from_id);
  if (!from) return `what was put in on ${on_day} came from a culture of another species`;
  if (from.founded_on > on_day)
    return `what was put in on ${on_day} came from ${from.code}, which was founded only on ${from.founded_on}`;
  return on_day > asOf ? `what was put in on ${on_day} is still to come` : null;
}

/** Additions that can be, and those that cannot. */
function soundAdditions(additions: readonly AdditionRow[], rows: Map<number, CultureRow>, asOf: string) {
  const leftOut: LeftOut[] = [];
  const sound = additions.filter((addition) => {
    const code = rows.get(addition.culture_id)?.code;
    if (code === undefined) return false;
    const why = whyUnsound(addition, rows, asOf);
    if (why) leftOut.push({ code, why });
    return why === null;
  });
  return { sound, leftOut };
}

const sizedOf = (additions: readonly AdditionRow[]): SizedAddition[] =>
  additions.flatMap(({ on_day, before_median: before, after_median: after }) =>
    before === null || after === null ? [] : [{ onDay: on_day, before, after }],
  );

const quartered = (rows: readonly QuarterRow[]): Quarter[] =>
  rows.map(({ on_day, before_median, mean }) => ({ onDay: on_day, before: before_median, mean }));

/**
 * The lineage of a species from what is stored. Cultures without parents (wild, bought, of unknown origin) are taken
 * as founded from strangers, kin of nobody; those that are retired and left nothing in a kept culture are not needed.
 */
export function lineageOfRows(stored: LineageRows): GatheredLineage {
  const { asOf, femaleShare, neRatio, generationDays } = stored;
  const rows = new Map(
    stored.cultures.filter((row) => row.founded_on <= asOf).map((row) => [row.id, row] as const),
  );
  const parents = byCulture(stored.parents.filter((p) => rows.has(p.parent_id) && rows.has(p.culture_id)));
  const { sound, leftOut } = soundAdditions(stored.additions, rows, asOf);
  const additions = byCulture(sound);
  const quarters = byCulture(stored.quarters);
  const sourcesOf = (id: number) => [
    ...(parents.get(id) ?? []).map((p) => p.parent_id),
    ...(additions.get(id) ?? []).map((a) => a.from_id),
  ];
  const needed = relevant(rows.values(), new Map([...rows.keys()].map((id) => [id, sourcesOf(id)])));
  const members = [...rows.values()].filter(({ id }) => needed.has(id));
  const codeOf = (id: number) => rows.get(id)?.code ?? '';
  const cultures = members.map((row): LineageCulture => {
    const own = parents.get(row.id) ?? [];
    const put = additions.get(row.id) ?? [];
    const sizes = sizesOf({
      foundedOn: row.founded_on,
      quarters: quartered(quarters.get(row.id) ?? []),
      additions: sizedOf(put),
      now: row.median,
      asOf,
    });
    return {
      code: row.code,
      foundedOn: row.founded_on,
      parents: own.map(({ parent_id, animals }) => ({ code: codeOf(parent_id), animals })),
      ...(own.length === 0 && { wild: row.founding_animals }),
      sizes,
      additions: put.map((a) => ({ date: a.on_day, code: codeOf(a.from_id), animals: a.animals })),
    };
  });
  return {
    lineage: { cultures, femaleShare, neRatio, generationDays, asOf },
    members: members.map(({ id, code, status, median }) => ({
      id,
      code,
      isKept: status !== 'retired',
      median,
    })),
    leftOut,
  };
}
