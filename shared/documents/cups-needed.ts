/**
 * How many cups so many groups need: each group has its own, and one with more animals than a cup takes has several.
 * `animalsPerCup` null: however many animals a group has, they share a cup.
 *
 * @example cupsNeeded({ groups: 3, animalsPerGroup: 14, animalsPerCup: null }) // 3
 * @example cupsNeeded({ groups: 3, animalsPerGroup: 14, animalsPerCup: 10 }) // 6
 */
export function cupsNeeded(of: {
  groups: number;
  animalsPerGroup: number;
  animalsPerCup: number | null;
}): number {
  const { groups, animalsPerGroup, animalsPerCup } = of;
  return groups * (animalsPerCup === null ? 1 : Math.max(1, Math.ceil(animalsPerGroup / animalsPerCup)));
}
