import type { NewEntry } from '../../server/cultures/queries-diary.ts';
import type { enclosures, species } from '../../server/schema/tables.ts';
import { addDays, daysBetween } from '../../shared/days.ts';
import { measuresOf, volumeLitres } from '../../shared/enclosures/volume.ts';
import type { Chance } from './chance.ts';

export type SpeciesRow = typeof species.$inferSelect;
export type EnclosureRow = typeof enclosures.$inferSelect;

/** A colony of the demo as it truly is, which nobody in the demo's business knows. */
export type Colony = {
  code: string;
  species: SpeciesRow;
  foundedOn: string;
  foundingAnimals: number;
  parent: string | null;
  lineIndex: number;
  animals: number;
  growth: number;
  capacity: number;
  lastDay: string;
  /** When its substrate was new, or last renewed. */
  renewedOn: string;
  entries: DemoEntry[];
  /** Days until the next check and the next count. */
  nextCheckOn: string;
  nextCountOn: string;
  /** From this day on nobody counts it any more (a count too old). */
  countedUntil: string;
};

export type DemoEntry = Omit<NewEntry, 'cultureId' | 'via' | 'madeBy' | 'madeAt'> & {
  by: 'owner' | 'helper';
  otherCode?: string;
};

export function found(
  chance: Chance,
  row: SpeciesRow,
  enclosure: EnclosureRow,
  o: { code: string; foundedOn: string; animals: number; parent: string | null; lineIndex: number },
): Colony {
  const litres = volumeLitres(measuresOf(enclosure), enclosure.substrateDepthMm);
  return {
    code: o.code,
    species: row,
    foundedOn: o.foundedOn,
    foundingAnimals: o.animals,
    parent: o.parent,
    lineIndex: o.lineIndex,
    animals: o.animals,
    growth: chance.logNormal(row.growthPerWeekMedian, row.growthSdLog * 0.6),
    capacity: chance.logNormal(row.capacityPerLitreMedian * litres, row.capacitySdLog * 0.6),
    lastDay: o.foundedOn,
    renewedOn: o.foundedOn,
    entries: [],
    nextCheckOn: addDays(o.foundedOn, chance.whole(2, 6)),
    nextCountOn: addDays(o.foundedOn, chance.whole(14, 30)),
    countedUntil: '9999-12-31',
  };
}

/** Logistic growth in closed form with a wandering logarithm: the model the estimates are made with. */
export function growTo(chance: Chance, colony: Colony, day: string) {
  const weeks = daysBetween(colony.lastDay, day) / 7;
  colony.lastDay = day;
  if (weeks <= 0 || colony.animals < 0.5) return;
  const { animals: n, growth: r, capacity: k } = colony;
  const e = Math.exp(r * weeks);
  const mean = (k * n * e) / (k + n * (e - 1));
  colony.animals = mean * Math.exp(colony.species.processSd * Math.sqrt(weeks) * chance.normal());
}

const foods = ['leaf litter', 'fish flake', 'courgette', 'carrot', 'dried shrimp', 'rotten white wood'];

/** Renewed about when the rhythm of its species says so, one culture a little earlier, the next a little later. */
function renewsSubstrate(colony: Colony, day: string): boolean {
  const { substrateMonths } = colony.species;
  if (substrateMonths === null) return false;
  const later = (Number(colony.code.slice(-3)) % 5) * 14 - 28;
  return daysBetween(colony.renewedOn, day) >= substrateMonths * 30.4 + later;
}

/** A weekly look, with what was done at it. */
export function check(chance: Chance, colony: Colony, day: string) {
  const renews = renewsSubstrate(colony, day);
  if (renews) colony.renewedOn = day;
  const surface = chance.pick(['moist', 'moist', 'moist', 'wet', 'dry'] as const);
  const by = chance.happens(0.7) ? ('helper' as const) : ('owner' as const);
  const full = colony.animals / colony.capacity;
  colony.entries.push({
    onDay: day,
    kind: 'check',
    by,
    surface,
    springtails: chance.pick(['few', 'some', 'some', 'many'] as const),
    springtailsWhere: chance.pick(['low', 'low', 'ranging'] as const),
    youngSeen: full < 0.9 && chance.happens(0.4),
    eggsSeen: chance.happens(0.15),
    mouldSeen: false,
    mitesSeen: false,
    ...(renews ? { substrate: 'mixed' as const } : {}),
  });
  if (surface === 'dry')
    colony.entries.push({ onDay: day, kind: 'water', by, waterMl: chance.pick([10, 15, 20, 30]) });
  if (chance.happens(0.6)) colony.entries.push({ onDay: day, kind: 'feed', by, food: chance.pick(foods) });
  colony.nextCheckOn = addDays(day, Math.max(1, colony.species.checkEveryDays + chance.whole(-2, 1)));
}

/** Mostly what shows at the wall; now and then everything, or a fifth of the substrate. */
export function count(chance: Chance, colony: Colony, day: string) {
  const { species: s } = colony;
  const n = Math.round(colony.animals);
  const by = chance.happens(0.5) ? ('helper' as const) : ('owner' as const);
  const put = (input: object) =>
    colony.entries.push({ onDay: day, kind: 'count', by, countInput: JSON.stringify(input) });
  if (chance.happens(0.12)) {
    put({
      method: 'full',
      counted: Math.round(colony.animals * Math.exp(0.05 * chance.normal())),
      relativeSd: 0.05,
    });
  } else if (chance.happens(0.1)) {
    const counted = chance.poisson(0.2 * n * chance.logNormal(1, 0.35));
    put({ method: 'sample', counted, fraction: 0.2, clumping: 4 });
  } else {
    const detection = { alpha: s.detectionAlpha, beta: s.detectionBeta };
    put({
      method: 'visible',
      counted: chance.binomial(n, chance.beta(detection.alpha, detection.beta)),
      detection,
    });
  }
  colony.nextCountOn = addDays(day, chance.whole(16, 34));
}

/** Animals leave: a sale on the spot, or the start of another culture. */
export function takeOut(colony: Colony, entry: DemoEntry & { animals: number }) {
  colony.entries.push(entry);
  colony.animals = Math.max(0, colony.animals - entry.animals);
}
