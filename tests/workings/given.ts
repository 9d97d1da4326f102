import type { Opened } from '../../server/plumbing/open-database.ts';

/** Columns that hold what the house worked out, not what somebody gave. */
const workedOut: Record<string, RegExp> = {
  culture_estimates: /./,
  audit: /./,
  parcel_choices: /^(lowest|highest|hours|transit|decided|arrives)/,
  trips: /./,
  box_logs: /^(conductance|lower|upper|standard)/,
  invoices: /_minor$/,
  mails: /./,
};

/** How a column's unit is shown: so many of it make one of what people read. */
const shownPer: readonly [RegExp, number][] = [
  [/_mm$/, 10],
  [/_minor$/, 100],
  [/_(g|ml)$/, 1000],
  [/_j_per_kg_k$|_thousandths$/, 1000],
  [/_(share|ratio)$|^(reserve_share|confidence|effective_ratio|process_sd)$/, 0.01],
];

/** Keys, fingerprints and instants are no numbers that anybody reads. */
const unread = /_at$|_hash$|token|sha256|_key$|fingerprint/;
const numbersIn = (text: string) =>
  [...text.matchAll(/(?<![\p{L}\d.])\d+(?:\.\d+)?(?![\p{L}\d])/gu)].map(([one]) => Number(one));
const rounded = (value: number) => Math.round(value * 1e6) / 1e6;

/** Every number that somebody typed in or that names something, as pages may show it. */
export function givenNumbers({ sqlite }: Pick<Opened, 'sqlite'>): Set<number> {
  const given = new Set<number>();
  const tables = sqlite
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    .pluck()
    .all() as string[];
  for (const table of tables) {
    for (const row of sqlite.prepare(`SELECT * FROM "${table}" LIMIT 500`).all() as Record<
      string,
      unknown
    >[]) {
      for (const [column, value] of Object.entries(row)) {
        if (value === null || value instanceof Uint8Array || unread.test(column)) continue;
        if (workedOut[table]?.test(column)) continue;
        const per = shownPer.find(([name]) => name.test(column))?.[1] ?? 1;
        for (const one of numbersIn(String(value))) {
          given.add(rounded(one));
          given.add(rounded(one / per));
        }
      }
    }
  }
  return given;
}
