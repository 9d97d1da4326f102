import { asc } from 'drizzle-orm';
import { genusOf } from '../../shared/movement/applies.ts';
import { animalGroups } from '../../shared/species/columns.ts';
import type { OptionGroup } from '../../views/layout/form.tsx';
import { allOfGroup } from '../../views/movement/say.ts';
import type { Db } from '../plumbing/open-database.ts';
import { species } from '../schema/tables.ts';
import type { MovementRow } from './queries-rules.ts';

/** The catalogue's species, those put away too: what was sent of them is still under rules. */
export const speciesInCatalogue = (db: Db) =>
  db
    .select({ id: species.id, scientificName: species.scientificName })
    .from(species)
    .orderBy(asc(species.scientificName))
    .all();

type Catalogue = ReturnType<typeof speciesInCatalogue>;

/** Genera of the catalogue, with the one a rule is about already. */
export function generaOf(catalogue: Catalogue, before: MovementRow | null): string[] {
  const own = before?.genus ? [before.genus] : [];
  const genera = catalogue.map(({ scientificName }) => genusOf(scientificName)).filter((name) => name !== '');
  return [...new Set([...own, ...genera])].sort((a, b) => a.localeCompare(b, 'en'));
}

/** What a rule can be about, for its form. */
export function animalChoices(catalogue: Catalogue, before: MovementRow | null): OptionGroup[] {
  return [
    {
      group: 'Widely',
      options: [
        { value: 'all', label: 'All animals' },
        ...animalGroups.map((one) => ({ value: `group:${one}`, label: capital(allOfGroup(one)) })),
      ],
    },
    {
      group: 'A genus',
      options: generaOf(catalogue, before).map((genus) => ({
        value: `genus:${genus}`,
        label: `All of the genus ${genus}`,
      })),
    },
    {
      group: 'One species',
      options: catalogue.map(({ id, scientificName }) => ({ value: `species:${id}`, label: scientificName })),
    },
  ].filter(({ options }) => options.length > 0);
}

const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);
