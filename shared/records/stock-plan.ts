import type { AnimalGroup } from '../species/columns.ts';
import type { speciesKeys } from './culture-book.ts';
import { type EnclosureSize, enclosureSize, shapeByName } from './enclosure-size.ts';
import type { CultureRow, DiaryRow } from './entries.ts';
import { type PlacePlan, planPlaces, type StoredPlace } from './place-plan.ts';
import { sharesThatShowed } from './share-that-shows.ts';
import { guessGroup, meantSpecies, starterNamed } from './species-guess.ts';
import type { StockChoices } from './stock-choices.ts';

/** What the records hold that cultures of a file may refer to. */
export interface Stock {
  species: readonly { scientificName: string; commonName: string }[];
  enclosures: readonly string[];
  places: readonly StoredPlace[];
  lines: readonly { species: string; name: string }[];
}

export interface SpeciesPlan {
  /** The key under which all its names are one. */
  key: string;
  /** As the file has it, and words that tell more of it. */
  name: string;
  alsoCalled: string[];
  cultures: number;
  /** The scientific name of one that is there. */
  is: string | null;
  make: {
    scientificName: string;
    commonName: string;
    group: AnimalGroup | null;
    /** One of the starter set, with care text and home. */
    starter: boolean;
    /** Of its animals the shares that showed beside full counts. */
    shares: number[];
  } | null;
}

export interface EnclosurePlan {
  /** null: of these cultures no enclosure is told. */
  name: string | null;
  cultures: number;
  is: string | null;
  /** `size` null: a person must say how much it holds. */
  make: { name: string; size: EnclosureSize | null; guessed: boolean } | null;
}

export interface LinePlan {
  name: string;
  speciesKey: string;
  /** The scientific name, there or to be made. */
  species: string;
  cultures: number;
  isNew: boolean;
}

/** What must be there before the cultures can be written: found, to be made, or to be asked. */
export interface StockPlan {
  species: SpeciesPlan[];
  enclosures: EnclosurePlan[];
  lines: LinePlan[];
  places: PlacePlan[];
  /** The room of the places that name none; null where each names its own. */
  room: string | null;
  /** What a person must say first. */
  open: { of: 'species' | 'enclosure'; name: string | null; message: string }[];
}

/** The name of the enclosure that stands in where none is told. */
const UNKNOWN_ENCLOSURE = 'Unknown enclosure';

/**
 * What the cultures and moves of a reading need of species, enclosures, lines and places: found in the records by
 * name, else to be made as the choices say or as their names let guess.
 */
export function planStock(
  rows: { cultures: readonly CultureRow[]; diary: readonly DiaryRow[] },
  stock: Stock,
  choices: StockChoices,
  speciesKey: ReturnType<typeof speciesKeys>,
): StockPlan {
  const species = planSpecies(rows, stock, choices, speciesKey);
  const enclosures = planEnclosures(rows.cultures, stock, choices);
  const paths = [
    ...rows.cultures.map((culture) => culture.place),
    ...rows.diary.flatMap(({ entry }) => (entry.kind === 'move' ? [entry.place] : [])),
  ];
  const { places, room } = planPlaces(paths, stock.places, choices.room);
  const lines = planLines(rows.cultures, species, stock, speciesKey);
  return {
    species,
    enclosures,
    lines,
    places,
    room,
    open: [...openSpecies(species), ...openSizes(enclosures)],
  };
}

const same = (one: string, other: string) => one.toLowerCase() === other.toLowerCase();

function planSpecies(
  { cultures, diary }: { cultures: readonly CultureRow[]; diary: readonly DiaryRow[] },
  stock: Stock,
  choices: StockChoices,
  speciesKey: (name: string) => string,
): SpeciesPlan[] {
  const chosen = new Map((choices.species ?? []).map((choice) => [speciesKey(choice.name), choice]));
  const showed = sharesThatShowed(diary);
  const there = new Map(stock.species.map((one) => [speciesKey(one.scientificName), one.scientificName]));
  return [...grouped(cultures, (culture) => speciesKey(culture.species))].map(([key, group]) => {
    const [first] = group as [CultureRow];
    const choice = chosen.get(key);
    const told = group.flatMap((culture) => [culture.species, culture.commonName ?? '', culture.morph]);
    const alsoCalled = [...new Set(told)].filter((name) => name !== '' && name !== first.species);
    const wanted = choice?.is ?? there.get(key) ?? null;
    const is = stock.species.find((one) => wanted !== null && same(one.scientificName, wanted));
    const plan = { key, name: first.species, alsoCalled, cultures: group.length };
    if (is) return { ...plan, is: is.scientificName, make: null };
    const scientificName = meantSpecies(first.species);
    const starter = starterNamed(scientificName);
    const commonName = first.commonName ?? starter?.commonName ?? '';
    const guess = starter?.animalGroup ?? guessGroup(scientificName, alsoCalled);
    const make = {
      scientificName: starter?.scientificName ?? scientificName,
      commonName,
      group: choice?.group ?? guess,
      starter: starter !== null && (choice?.group ?? starter.animalGroup) === starter.animalGroup,
      shares: group.flatMap((culture) => showed.get(culture.code) ?? []),
    };
    return { ...plan, is: null, make };
  });
}

function planEnclosures(
  cultures: readonly CultureRow[],
  stock: Stock,
  choices: StockChoices,
): EnclosurePlan[] {
  const form = (name: string | null) => name?.toLowerCase() ?? '';
  const chosen = new Map((choices.enclosures ?? []).map((choice) => [form(choice.name), choice]));
  return [...grouped(cultures, (culture) => form(culture.enclosure))].map(([key, group]) => {
    const name = group[0]!.enclosure;
    const choice = chosen.get(key);
    const plan = { name, cultures: group.length };
    const wanted = choice?.is ?? (choice?.litres === undefined ? name : null);
    const is = stock.enclosures.find((one) => wanted !== null && same(one, wanted));
    if (is) return { ...plan, is, make: null };
    const made = name ?? UNKNOWN_ENCLOSURE;
    const told = choice?.litres;
    const size = told === undefined ? enclosureSize(made) : { shape: shapeByName(made, told), litres: told };
    return { ...plan, is: null, make: { name: made, size, guessed: told === undefined } };
  });
}

function planLines(
  cultures: readonly CultureRow[],
  species: readonly SpeciesPlan[],
  stock: Stock,
  speciesKey: (name: string) => string,
): LinePlan[] {
  const byKey = new Map(species.map((plan) => [plan.key, plan]));
  const withLine = cultures.filter((culture) => culture.lineName !== null);
  const key = (culture: CultureRow) =>
    JSON.stringify([culture.lineName!.toLowerCase(), speciesKey(culture.species)]);
  return [...grouped(withLine, key).values()].map((group) => {
    const name = group[0]!.lineName!;
    const plan = byKey.get(speciesKey(group[0]!.species));
    const scientific = plan?.is ?? plan?.make?.scientificName ?? group[0]!.species;
    const there = stock.lines.some((line) => same(line.name, name) && same(line.species, scientific));
    return { name, speciesKey: plan?.key ?? '', species: scientific, cultures: group.length, isNew: !there };
  });
}

function openSpecies(plans: readonly SpeciesPlan[]): StockPlan['open'] {
  return plans
    .filter((plan) => plan.make !== null && plan.make.group === null)
    .map(({ name }) => ({
      of: 'species',
      name,
      message: `Say what kind of animal ${name} is, or which species of yours it is.`,
    }));
}

function openSizes(plans: readonly EnclosurePlan[]): StockPlan['open'] {
  return plans
    .filter((plan) => plan.make !== null && plan.make.size === null)
    .map(({ name, cultures }) => ({
      of: 'enclosure',
      name,
      message:
        name === null
          ? `Of ${cultures} ${cultures === 1 ? 'culture' : 'cultures'} no enclosure is told: say how much it holds, or which it is.`
          : `Say how much “${name}” holds, or which enclosure of yours it is.`,
    }));
}

function grouped<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return groups;
}
