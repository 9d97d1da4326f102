import { foundingDoubt } from '../cultures/form.ts';
import type { KnownCulture } from './culture-book.ts';
import type { SettledCulturesMapping } from './mapping.ts';
import type { CultureDraft } from './read-cultures.ts';
import type { DiaryDraft } from './read-diary.ts';
import { shareOutFounders } from './reconcile-splits.ts';

/** Settles with how many animals a culture was founded: told, else what its splits tell, else what is set for all. */
export function finishFounding(draft: CultureDraft, mapping: SettledCulturesMapping): void {
  const { findings } = draft;
  if (
    draft.foundingAnimals === null &&
    !findings.faults.some((fault) => fault.column === mapping.columns.animals)
  ) {
    const shares = draft.parents.map((parent) => parent.animals);
    if (shares.length > 0 && shares.every((animals) => animals !== null)) {
      draft.foundingAnimals = shares.reduce((sum, animals) => sum + animals, 0);
      findings.notice(
        'animals-from-split',
        `Founded with the ${draft.foundingAnimals} animals that its split tells.`,
      );
    } else if (mapping.foundingAnimals !== null) {
      draft.foundingAnimals = mapping.foundingAnimals;
      draft.foundingSdLog = foundingDoubt.about;
      findings.notice('animals-assumed', `Taken as founded with ${mapping.foundingAnimals} animals.`);
    } else {
      const mend = 'Write how many, or say a number for all such rows.';
      findings.fault(
        'number-missing',
        'The founding animals are not told.',
        mapping.columns.animals ?? null,
        mend,
      );
    }
  }
  shareOutFounders(draft);
}

/** Tells where a row differs from what the records say of the same culture. The records stay as they are. */
export function compareWithRecords(
  draft: CultureDraft,
  known: KnownCulture,
  speciesKey: (name: string) => string,
): void {
  const differs = (what: string, here: string | number, there: string | number) =>
    draft.findings.notice(
      'differs-from-records',
      `${known.code}: ${what} ${here} here, ${there} in the records, which stay.`,
    );
  if (draft.foundedOn !== null && draft.foundedOn !== known.foundedOn)
    differs('founded on', draft.foundedOn, known.foundedOn);
  if (draft.foundingAnimals !== null && draft.foundingAnimals !== known.foundingAnimals) {
    differs('founding animals', draft.foundingAnimals, known.foundingAnimals);
  }
  const names = known.speciesNames.map(speciesKey);
  if (draft.species !== '' && !names.includes(speciesKey(draft.species))) {
    differs('species', draft.species, known.speciesNames[0] ?? '');
  }
  const here = draft.parents.map((parent) => parent.code).sort();
  const there = known.parents.map((parent) => parent.code).sort();
  if (here.join() !== there.join()) differs('parents', here.join(', ') || 'none', there.join(', ') || 'none');
}

/** Gives each retired culture the day it ended: told, else of its retirement, else of its last entry. */
export function retire(drafts: readonly CultureDraft[], diary: readonly DiaryDraft[]): void {
  const retired = new Map(
    drafts
      .filter((draft) => draft.status === 'retired' && draft.code !== null)
      .map((draft) => [draft.code!, draft]),
  );
  const last = new Map<string, { on: string; told: boolean }>();
  for (const row of diary) {
    if (row.code === null || row.on === null || !retired.has(row.code) || row.findings.faults.length > 0)
      continue;
    const told = row.told.some(({ entry }) => entry?.kind === 'retirement');
    const earlier = last.get(row.code);
    if (!earlier || (told && !earlier.told) || (told === earlier.told && row.on > earlier.on))
      last.set(row.code, { on: row.on, told });
  }
  for (const [code, draft] of retired) {
    if (draft.endedOn !== null) continue;
    const ended = last.get(code);
    draft.endedOn = ended?.on ?? draft.foundedOn;
    if (!ended?.told)
      draft.findings.notice('ended-on-assumed', `Taken as ended on ${draft.endedOn}, its last entry.`);
  }
}
