import type { CultureRow, DiaryRow } from './entries.ts';
import type { Notice } from './notices.ts';
import { writePlace } from './places.ts';
import type { Summary } from './result.ts';
import type { Workings } from './workings.ts';

/** What would be brought in, in numbers; tells where one name of a line is used for two species. */
export function summarise(
  cultures: readonly CultureRow[],
  diary: readonly DiaryRow[],
  workings: Workings,
  notices: Notice[],
): Summary {
  const { speciesKey } = workings;
  const species = tally(cultures, (culture) => speciesKey(culture.species));
  const lines = tally(
    cultures.filter((culture) => culture.lineName !== null),
    (culture) => JSON.stringify([culture.lineName!.toLowerCase(), speciesKey(culture.species)]),
  );
  tellSharedLines(
    [...lines.values()].map(([culture]) => culture),
    notices,
  );
  const enclosures = tally(
    cultures.filter((culture) => culture.enclosure !== null),
    (culture) => culture.enclosure!.toLowerCase(),
  );
  const places = tally(
    cultures.filter((culture) => culture.place.length > 0),
    (culture) => writePlace(culture.place).toLowerCase(),
  );
  const people = tally(
    diary.filter((row) => row.by !== null),
    (row) => row.by!,
  );
  const fromFounding = diary.filter((row) => row.file === 'cultures').length;
  const splits = diary.filter((row) => row.entry.kind === 'split').length;
  const { fromBoth, known } = workings.splits;
  return {
    cultures: cultures.length,
    entries: Object.fromEntries(
      [...tally(diary, (row) => row.entry.kind)].map(([kind, [, rows]]) => [kind, rows]),
    ),
    firstDay: diary[0]?.on ?? null,
    lastDay: diary.at(-1)?.on ?? null,
    species: [...species.values()].map(([first, count]) => ({
      name: first.species,
      commonName: first.commonName,
      cultures: count,
    })),
    lines: [...lines.values()].map(([first, count]) => ({
      name: first.lineName!,
      species: first.species,
      cultures: count,
    })),
    enclosures: [...enclosures.values()].map(([first, count]) => ({
      name: first.enclosure!,
      cultures: count,
    })),
    places: [...places.values()].map(([first, count]) => ({ place: first.place, cultures: count })),
    people: [...people.values()].map(([first, count]) => ({ name: first.by!, rows: count })),
    splits: { fromBoth, fromDiary: splits - fromBoth - fromFounding, fromFounding, known },
  };
}

/** The first of each group and how many there are, in the order in which the groups appear. */
function tally<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, [T, number]> {
  const groups = new Map<string, [T, number]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group[1] += 1;
    else groups.set(key, [item, 1]);
  }
  return groups;
}

function tellSharedLines(firstOfEach: readonly CultureRow[], notices: Notice[]): void {
  const speciesOf = new Map<string, CultureRow[]>();
  for (const culture of firstOfEach) {
    const name = culture.lineName!.toLowerCase();
    speciesOf.set(name, [...(speciesOf.get(name) ?? []), culture]);
  }
  for (const cultures of speciesOf.values()) {
    if (cultures.length < 2) continue;
    const names = cultures.map((culture) => culture.species).join(' and ');
    const message = `${cultures[0]!.lineName} is a line of ${names}. They are kept apart as one line each.`;
    notices.push({ kind: 'line-of-two-species', file: 'cultures', line: null, message });
  }
}
