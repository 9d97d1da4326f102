import type { Db } from '../../server/plumbing/open-database.ts';
import { speciesCare, speciesLayerParts, speciesLayers } from '../../server/schema/tables.ts';
import { makeEnclosure, makeSpecies } from './stock.ts';

export const headings = [
  'enclosure',
  'substrate',
  'water',
  'food',
  'breeding',
  'temperature',
  'normal',
  'not-normal',
] as const;

/** A species with everything that a care sheet says. */
export function describedSpecies(db: Db) {
  const home = makeEnclosure(db, { name: 'Shoe box', lengthMm: 200, widthMm: 100, heightMm: 90 });
  const kind = makeSpecies(db, {
    homeEnclosureId: home.id,
    cautions: 'Never release them.\n\nWash your hands.',
  });
  for (const heading of headings)
    db.insert(speciesCare)
      .values({ speciesId: kind.id, heading, text: `What to know about ${heading}.` })
      .run();
  const layer = db
    .insert(speciesLayers)
    .values({ speciesId: kind.id, position: 0, name: 'Base layer', depthMm: 50 })
    .returning()
    .get();
  db.insert(speciesLayerParts)
    .values([
      { layerId: layer.id, position: 0, material: 'leaf mould', parts: 3, settling: 1 },
      { layerId: layer.id, position: 1, material: 'white wood', parts: 1, settling: 0.5 },
    ])
    .run();
  return kind;
}
