import type { Db } from '../../server/plumbing/open-database.ts';
import { hashPassword } from '../../server/plumbing/passwords.ts';
import {
  enclosures,
  people,
  places,
  species,
  speciesCare,
  speciesLayerParts,
  speciesLayers,
} from '../../server/schema/tables.ts';
import { saveBusiness } from '../../server/settings/queries.ts';
import { starterEnclosures } from '../../shared/enclosures/starter-set.ts';
import { careHeadings } from '../../shared/species/columns.ts';
import { starterSpecies } from '../../shared/species/starter-set.ts';

/** Invented: no such business exists. The passwords are printed at the start; the demo holds nothing of worth. */
export const demoPeople = [
  {
    id: 'demo-owner',
    signInName: 'owner@example.org',
    name: 'Robin Vale',
    role: 'owner',
    password: 'moss under bark, owner',
  },
  {
    id: 'demo-helper',
    signInName: 'helper@example.org',
    name: 'Sam Tarn',
    role: 'helper',
    password: 'moss under bark, helper',
  },
] as const;

export async function hashDemoPasswords() {
  return Promise.all(
    demoPeople.map(async ({ password, ...person }) => ({
      ...person,
      passwordHash: await hashPassword(password),
    })),
  );
}

export function writeBusiness(tx: Db, staff: Awaited<ReturnType<typeof hashDemoPasswords>>, madeAt: number) {
  saveBusiness(
    tx,
    {
      name: 'Lidded Woods (demo)',
      address: '4 Example Yard\nExampleton EX1 2MP',
      email: 'bench@example.org',
      country: 'GB',
      timeZone: 'Europe/London',
      currency: 'GBP',
      locale: 'en-GB',
      units: 'metric',
      paper: 'A4',
      language: 'en',
    },
    madeAt,
  );
  for (const person of staff) {
    tx.insert(people)
      .values({ ...person, active: true, scheme: 'system', madeAt, madeBy: null })
      .run();
  }
}

/** Two rooms with racks, shelves and positions, numbered as they are walked past. */
export function writePlaces(tx: Db) {
  const put = (
    kind: 'room' | 'rack' | 'shelf' | 'position',
    name: string,
    parent: { id: number; fullName: string; shelfOrder: string } | null,
    index: number,
  ) => {
    const own = String(index).padStart(3, '0');
    return tx
      .insert(places)
      .values({
        kind,
        name,
        parentId: parent?.id ?? null,
        fullName: parent ? `${parent.fullName} / ${name}` : name,
        shelfOrder: parent ? `${parent.shelfOrder}.${own}` : own,
      })
      .returning()
      .get();
  };
  for (const [r, [room, racks]] of (
    [
      ['Workshop', 2],
      ['Cellar', 1],
    ] as const
  ).entries()) {
    const roomRow = put('room', room, null, r + 1);
    for (let rack = 1; rack <= racks; rack += 1) {
      const rackRow = put('rack', `Rack ${rack}`, roomRow, rack);
      for (let shelf = 1; shelf <= 4; shelf += 1) {
        const shelfRow = put('shelf', `Shelf ${shelf}`, rackRow, shelf);
        for (let position = 1; position <= 3; position += 1)
          put('position', String(position), shelfRow, position);
      }
    }
  }
}

/** Demo prices, minor units; the starter set itself names none. */
const prices: Record<string, number> = {
  'Armadillidium maculatum': 1400,
  'Porcellio laevis': 950,
  'Porcellionides pruinosus': 750,
  'Trichorhina tomentosa': 600,
  'Folsomia candida': 550,
  'Blaptica dubia': 900,
  'Pachnoda marginata': 1600,
  'Chelifer cancroides': 1800,
  'Chicobolus spinigerus': 2400,
};

export function writeStock(tx: Db) {
  const homes = new Map<string, number>();
  for (const enclosure of starterEnclosures) {
    const { id } = tx
      .insert(enclosures)
      .values({ ...enclosure, measured: true })
      .returning({ id: enclosures.id })
      .get();
    homes.set(enclosure.name, id);
  }
  for (const { figures, home, care, layers, ...names } of starterSpecies) {
    const priceMinor = prices[names.scientificName] ?? 0;
    const { id } = tx
      .insert(species)
      .values({ ...names, ...figures, priceMinor, homeEnclosureId: homes.get(home) ?? null })
      .returning({ id: species.id })
      .get();
    for (const heading of careHeadings)
      tx.insert(speciesCare).values({ speciesId: id, heading, text: care[heading] }).run();
    for (const [position, layer] of layers.entries()) {
      const { parts, ...rest } = layer;
      const row = tx
        .insert(speciesLayers)
        .values({ ...rest, speciesId: id, position })
        .returning({ id: speciesLayers.id })
        .get();
      for (const [i, part] of parts.entries())
        tx.insert(speciesLayerParts)
          .values({ ...part, layerId: row.id, position: i })
          .run();
    }
  }
}
