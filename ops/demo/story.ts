import { codeLetters } from '../../shared/cultures/next-code.ts';
import { addDays, daysBetween } from '../../shared/days.ts';
import type { Chance } from './chance.ts';
import {
  type Colony,
  check,
  count,
  type EnclosureRow,
  found,
  growTo,
  type SpeciesRow,
  takeOut,
} from './colony.ts';

type Plan = {
  scientificName: string;
  enclosure: string;
  cultures: number;
  founders: number;
  /** Started anew so many days ago, each from the oldest: what is fed from lives for weeks, not for years. */
  startsAgo?: readonly number[];
};

/** How many cultures of each species the demo ends with, at most, and in what they live. */
export const cast: Plan[] = [
  { scientificName: 'Armadillidium maculatum', enclosure: '6 litre box', cultures: 9, founders: 2 },
  { scientificName: 'Porcellio laevis', enclosure: '12 litre box', cultures: 8, founders: 2 },
  { scientificName: 'Porcellionides pruinosus', enclosure: '6 litre box', cultures: 10, founders: 2 },
  { scientificName: 'Trichorhina tomentosa', enclosure: '1 litre tub', cultures: 8, founders: 2 },
  { scientificName: 'Folsomia candida', enclosure: '1 litre tub', cultures: 5, founders: 1 },
  { scientificName: 'Blaptica dubia', enclosure: '45 litre box', cultures: 6, founders: 2 },
  { scientificName: 'Pachnoda marginata', enclosure: '12 litre box', cultures: 6, founders: 2 },
  { scientificName: 'Chelifer cancroides', enclosure: '1 litre tub', cultures: 3, founders: 2 },
  { scientificName: 'Chicobolus spinigerus', enclosure: '45 litre box', cultures: 3, founders: 1 },
  {
    scientificName: 'Drosophila hydei',
    enclosure: '1 litre jar',
    cultures: 4,
    founders: 1,
    startsAgo: [38, 24, 17, 5],
  },
];

const historyDays = 548;

function split(chance: Chance, parent: Colony, enclosure: EnclosureRow, code: string, day: string): Colony {
  const size = parent.species.groupAdults + parent.species.groupJuveniles;
  const animals = Math.min(Math.round(parent.animals / 3), size * 2 + chance.whole(0, 6));
  const adults = Math.round(animals * 0.75);
  const by = 'owner' as const;
  const child = found(chance, parent.species, enclosure, {
    code,
    foundedOn: day,
    animals,
    parent: parent.code,
    lineIndex: parent.lineIndex,
  });
  takeOut(parent, {
    onDay: day,
    kind: 'split',
    by,
    animals,
    adults,
    juveniles: animals - adults,
    otherCode: code,
    seedingMl: 150,
    note: 'Full; a third moved out with old substrate.',
  });
  return child;
}

function sell(chance: Chance, colony: Colony, day: string) {
  const { groupAdults, groupJuveniles, groupExtras } = colony.species;
  const groups = chance.whole(1, 2);
  const animals = groups * (groupAdults + groupJuveniles + groupExtras);
  if (animals > colony.animals * 0.3) return;
  takeOut(colony, {
    onDay: day,
    kind: 'harvest',
    by: 'owner',
    animals,
    adults: groups * groupAdults,
    juveniles: animals - groups * groupAdults,
    note: 'Sold at the door.',
  });
}

/** Flies for the next culture, moved on to fresh food. */
function startNext(chance: Chance, parent: Colony, enclosure: EnclosureRow, code: string, day: string) {
  growTo(chance, parent, day);
  const child = split(chance, parent, enclosure, code, day);
  const entry = parent.entries.at(-1);
  if (entry) Object.assign(entry, { seedingMl: null, note: 'Flies moved on to fresh food.' });
  return child;
}

/** One species from its founders to today: every colony grows, is looked after, counted, split and sold from. */
export function livesOf(
  chance: Chance,
  row: SpeciesRow,
  enclosure: EnclosureRow,
  plan: Plan,
  today: string,
): Colony[] {
  const letters = codeLetters(row.scientificName);
  const code = (n: number) => `${letters}-${String(n).padStart(3, '0')}`;
  const start = addDays(today, -(plan.startsAgo?.[0] ?? historyDays));
  const group = row.groupAdults + row.groupJuveniles;
  const colonies = Array.from({ length: plan.founders }, (_, i) =>
    found(chance, row, enclosure, {
      code: code(i + 1),
      foundedOn: addDays(start, i * 40),
      animals: group + chance.whole(2, 10),
      parent: null,
      lineIndex: i,
    }),
  );
  // Until the day before yesterday: a round is left for whoever looks around.
  for (let day = start; day < addDays(today, -1); day = addDays(day, 1)) {
    const [oldest] = colonies;
    if (oldest && day > oldest.foundedOn && plan.startsAgo?.includes(daysBetween(day, today)))
      colonies.push(startNext(chance, oldest, enclosure, code(colonies.length + 1), day));
    for (const colony of [...colonies]) {
      if (day <= colony.foundedOn) continue;
      if (day === colony.nextCheckOn) check(chance, colony, day);
      if (day === colony.nextCountOn && day <= colony.countedUntil) {
        growTo(chance, colony, day);
        count(chance, colony, day);
        const full = colony.animals / colony.capacity;
        if (full > 0.55 && colonies.length < plan.cultures && chance.happens(0.55)) {
          colonies.push(split(chance, colony, enclosure, code(colonies.length + 1), day));
        } else if (full > 0.65 && row.sellable && chance.happens(0.5)) sell(chance, colony, day);
      }
    }
  }
  return colonies;
}
