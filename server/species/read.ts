import { h } from 'preact';
import { sectionOf } from '../../shared/enclosures/section.ts';
import { measuresOf, volumeLitres } from '../../shared/enclosures/volume.ts';
import { CalculationError } from '../../shared/faults.ts';
import type { SpeciesFigures, SubstrateLayer } from '../../shared/species/columns.ts';
import { substrateMix } from '../../shared/species/substrate.ts';
import { starterGroup } from '../../shared/splits/starter-group.ts';
import { SpeciesListPage } from '../../views/species/page-list.tsx';
import { SpeciesPage } from '../../views/species/page-species.tsx';
import { readEnclosure } from '../enclosures/queries.ts';
import { listLines } from '../lines/queries.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  countRetired,
  culturesOfSpecies,
  hasSpecies,
  listSpecies,
  readCare,
  readLayers,
  readSpecies,
  type Species,
} from './queries.ts';

export function showSpeciesList(call: StaffCall): Answer {
  const filter = {
    words: (call.query.words ?? '').slice(0, 120).trim(),
    retired: call.query.retired === 'yes',
  };
  const rows = listSpecies(call.db, filter).map(({ species, ...counts }) => ({ ...species, ...counts }));
  return page(
    h(SpeciesListPage, {
      furniture: call.furniture,
      rows,
      filter,
      hasAny: hasSpecies(call.db),
      retiredCount: countRetired(call.db),
      currency: call.business.currency,
      mayEdit: call.who.role === 'owner',
    }),
  );
}

export function speciesIn(call: StaffCall): Species {
  const species = readSpecies(call.db, numberIn(call, 'id', 'species'));
  if (!species) throw notFound('species');
  return species;
}

/** The chance that a group has what a start needs; null while that cannot be said. */
export function startSafety(
  figures: Pick<
    SpeciesFigures,
    'groupAdults' | 'groupJuveniles' | 'femaleShare' | 'startMales' | 'startFemales'
  >,
): number | null {
  const animals = figures.groupAdults + figures.groupJuveniles;
  if (animals < 1 || animals > 10_000) return null;
  const { femaleShare, startMales: males, startFemales: females } = figures;
  return starterGroup({ animals, femaleShare, atLeast: { males, females } }).probability;
}

/** The customer's home with the layers in it: drawn to scale, and what to mix for one. */
function homeOf(db: Db, species: Species, layers: SubstrateLayer[]) {
  const enclosure = species.homeEnclosureId === null ? undefined : readEnclosure(db, species.homeEnclosureId);
  if (!enclosure) return null;
  const measures = measuresOf(enclosure);
  const mixed = () => {
    try {
      return substrateMix({ enclosure: measures, layers, enclosures: 1, spare: 0 });
    } catch (error) {
      // Layers that stand above the rim are shown and said; there is no recipe for them.
      if (error instanceof CalculationError) return null;
      throw error;
    }
  };
  return {
    name: enclosure.name,
    measures,
    ventilation: enclosure.ventilation,
    substrateLitres: volumeLitres(measures, enclosure.substrateDepthMm),
    section: sectionOf(measures, layers),
    mix: layers.length > 0 ? mixed() : null,
  };
}

export function showSpecies(call: StaffCall): Answer {
  const species = speciesIn(call);
  const layers = readLayers(call.db, species.id);
  return page(
    h(SpeciesPage, {
      furniture: call.furniture,
      species,
      retired: species.retiredAt !== null,
      care: readCare(call.db, species.id),
      layers,
      home: homeOf(call.db, species, layers),
      safety: startSafety(species),
      cultures: culturesOfSpecies(call.db, species.id).length,
      lines: listLines(call.db, species.id),
      units: call.business.units,
      currency: call.business.currency,
      mayEdit: call.who.role === 'owner',
    }),
  );
}
