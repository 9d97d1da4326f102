import { addDays } from '../../shared/days.ts';
import type { Colony } from './colony.ts';

const inOrder = (colony: Colony) =>
  colony.entries.sort((a, b) => (a.onDay < b.onDay ? -1 : a.onDay > b.onDay ? 1 : 0));

function find(colonies: Colony[], letters: string, index: number): Colony | undefined {
  return colonies.filter((c) => c.code.startsWith(letters))[index];
}

/** Things go wrong in every breeder's year: mites, a die-off, a quarantine, a culture nobody counted. */
export function trouble(colonies: Colony[], today: string) {
  const mites = find(colonies, 'DH', 1);
  // Nobody looked for a week: what went from it meanwhile is what a trace finds.
  if (mites) mites.entries = mites.entries.filter((e) => e.kind !== 'check' || e.onDay < addDays(today, -8));
  mites?.entries.push({
    onDay: addDays(today, -3),
    kind: 'mites',
    by: 'helper',
    note: 'Fine grey dust that moves, round the rim.',
  });
  const spoiled = find(colonies, 'PL', 3);
  if (spoiled) {
    const day = addDays(today, -70);
    spoiled.entries = spoiled.entries.filter((e) => !['count', 'harvest'].includes(e.kind) || e.onDay < day);
    spoiled.entries.push({
      onDay: day,
      kind: 'die-off',
      by: 'owner',
      survivalMedian: 0.35,
      survivalSdLog: 0.4,
      note: 'Sour smell, wet corner. Food taken out, half the substrate changed.',
    });
    const detection = { alpha: spoiled.species.detectionAlpha, beta: spoiled.species.detectionBeta };
    for (const [ago, counted] of [
      [56, 6],
      [35, 9],
      [14, 13],
    ] as const) {
      spoiled.entries.push({
        onDay: addDays(today, -ago),
        kind: 'count',
        by: 'helper',
        countInput: JSON.stringify({ method: 'visible', counted, detection }),
      });
    }
  }
  const set = find(colonies, 'TT', 2);
  set?.entries.push({
    onDay: addDays(today, -9),
    kind: 'quarantine',
    by: 'owner',
    note: 'Stood beside the fly cultures with mites.',
  });
  const forgotten = find(colonies, 'AM', 1);
  if (forgotten)
    forgotten.entries = forgotten.entries.filter((e) => e.kind !== 'count' || e.onDay < addDays(today, -120));
  const old = find(colonies, 'CC', 0);
  if (old)
    old.entries.push({
      onDay: addDays(today, -20),
      kind: 'mould',
      by: 'helper',
      note: 'White threads on a leaf, none on the animals.',
    });
  for (const colony of colonies) inOrder(colony);
}
