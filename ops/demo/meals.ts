import { addDays } from '../../shared/days.ts';
import type { Colony } from './colony.ts';

const feedFor = 120;

/** Who eats what lives in other cultures of the demo, by the letters of their codes. */
const menu: { eaters: string; feeders: string; food: string }[] = [
  { eaters: 'CC', feeders: 'FC', food: 'springtails' },
  { eaters: 'CC', feeders: 'DH', food: 'fruit flies' },
];

const withLetters = (colonies: readonly Colony[], letters: string) =>
  colonies.filter((colony) => colony.code.startsWith(`${letters}-`));

/** The pseudoscorpions live on springtails and flies of the house: their meals say from which culture. */
export function feedFromCultures(colonies: readonly Colony[], today: string) {
  let turn = 0;
  for (const eater of withLetters(colonies, menu[0]!.eaters)) {
    for (const entry of eater.entries) {
      if (entry.kind !== 'feed' || entry.onDay < addDays(today, -feedFor)) continue;
      const { feeders, food } = menu[turn % menu.length]!;
      const able = withLetters(colonies, feeders).filter(({ foundedOn }) => foundedOn <= entry.onDay);
      const feeder = able[turn % Math.max(1, able.length)];
      turn += 1;
      if (!feeder) continue;
      entry.food = food;
      entry.otherCode = feeder.code;
    }
  }
  const [first] = withLetters(colonies, 'CC');
  const flies = withLetters(colonies, 'DH')[1];
  if (first && flies)
    first.entries.push({
      onDay: addDays(today, -5),
      kind: 'feed',
      by: 'helper',
      food: 'fruit flies',
      otherCode: flies.code,
    });
}
