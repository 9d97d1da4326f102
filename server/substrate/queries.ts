import { and, asc, eq, inArray, ne, sql } from 'drizzle-orm';
import type { SubstrateLayer } from '../../shared/species/columns.ts';
import { usualSpare } from '../../shared/substrate/form.ts';
import { materialKey, type OnShelf } from '../../shared/substrate/shopping.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  cultures,
  enclosures,
  materials,
  mixing,
  recipeLayerParts,
  recipeLayers,
  species,
  speciesLayerParts,
  speciesLayers,
} from '../schema/tables.ts';

/** The recipe that was written for a species in an enclosure, from the floor up; empty where there is none. */
export function ownRecipe(db: Db, speciesId: number, enclosureId: number): SubstrateLayer[] {
  const isOwn = and(eq(recipeLayers.speciesId, speciesId), eq(recipeLayers.enclosureId, enclosureId));
  const layers = db.select().from(recipeLayers).where(isOwn).orderBy(asc(recipeLayers.position)).all();
  if (layers.length === 0) return [];
  const ids = layers.map(({ id }) => id);
  const parts = db
    .select()
    .from(recipeLayerParts)
    .where(inArray(recipeLayerParts.layerId, ids))
    .orderBy(asc(recipeLayerParts.position))
    .all();
  return layers.map(({ id, name, depthMm }) => ({
    name,
    depthMm,
    parts: parts
      .filter((part) => part.layerId === id)
      .map(({ material, parts: share, settling }) => ({ material, parts: share, settling })),
  }));
}

/** Writes a recipe in place of the one before; no layers take it away. */
export function saveRecipe(
  tx: Db,
  { speciesId, enclosureId }: { speciesId: number; enclosureId: number },
  layers: readonly SubstrateLayer[],
) {
  tx.delete(recipeLayers)
    .where(and(eq(recipeLayers.speciesId, speciesId), eq(recipeLayers.enclosureId, enclosureId)))
    .run();
  for (const [position, { name, depthMm, parts }] of layers.entries()) {
    const { id } = tx
      .insert(recipeLayers)
      .values({ speciesId, enclosureId, position, name, depthMm })
      .returning({ id: recipeLayers.id })
      .get();
    for (const [at, part] of parts.entries())
      tx.insert(recipeLayerParts)
        .values({ layerId: id, position: at, ...part })
        .run();
  }
}

export const readMaterials = (db: Db): OnShelf[] =>
  db
    .select({
      name: materials.name,
      inHandLitres: materials.inHandLitres,
      bagLitres: materials.bagLitres,
    })
    .from(materials)
    .all();

/** Keeps what is said of a material; one of which nothing is said is forgotten. */
export function saveMaterial(tx: Db, { name, inHandLitres, bagLitres }: OnShelf) {
  const isIt = sql`${materials.name} = ${name} COLLATE NOCASE`;
  tx.delete(materials).where(isIt).run();
  if (inHandLitres !== null || bagLitres !== null)
    tx.insert(materials).values({ name, inHandLitres, bagLitres }).run();
}

export const readSpare = (db: Db): number =>
  db.select({ spare: mixing.spareShare }).from(mixing).get()?.spare ?? usualSpare;

export function saveSpare(tx: Db, spareShare: number) {
  const row = { id: 1, spareShare };
  tx.insert(mixing).values(row).onConflictDoUpdate({ target: mixing.id, set: row }).run();
}

/** Every material that a recipe of a kept culture may want, and those written down before, each once, by name. */
export function materialNames(db: Db, besides: readonly string[]): string[] {
  const ofSpecies = db
    .selectDistinct({ name: speciesLayerParts.material })
    .from(speciesLayerParts)
    .innerJoin(speciesLayers, eq(speciesLayers.id, speciesLayerParts.layerId))
    .innerJoin(cultures, eq(cultures.speciesId, speciesLayers.speciesId))
    .where(ne(cultures.status, 'retired'))
    .all();
  const own = db.selectDistinct({ name: recipeLayerParts.material }).from(recipeLayerParts).all();
  const known = db.select({ name: materials.name }).from(materials).all();
  const names = [...besides, ...[...known, ...own, ...ofSpecies].map(({ name }) => name)];
  const byKey = new Map<string, string>();
  for (const name of names) if (!byKey.has(materialKey(name))) byKey.set(materialKey(name), name);
  return [...byKey.values()].sort((a, b) => a.localeCompare(b, 'en'));
}

/** Which species stand in which enclosures now: what recipes may be wanted for. */
export function pairsInUse(db: Db) {
  return db
    .select({
      speciesId: species.id,
      scientificName: species.scientificName,
      enclosureId: enclosures.id,
      enclosure: enclosures.name,
      cultures: sql<number>`count(*)`,
      own: sql<number>`(SELECT count(*) FROM recipe_layers r WHERE r.species_id = ${species.id} AND r.enclosure_id = ${enclosures.id})`,
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .innerJoin(enclosures, eq(enclosures.id, cultures.enclosureId))
    .where(ne(cultures.status, 'retired'))
    .groupBy(species.id, enclosures.id)
    .orderBy(asc(species.scientificName), asc(enclosures.name))
    .all();
}
