import {
  insertCup,
  saveGroupPacking,
  savePackingHabits,
  saveSpeciesPacking,
} from '../../server/documents/queries-packing.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { species } from '../../server/schema/tables.ts';
import { startingCups } from '../../shared/documents/cup-form.ts';
import { usualRoomForPackMm } from '../../shared/documents/packing-notes.ts';
import type { AnimalGroup } from '../../shared/species/columns.ts';

/** Invented, as if the owner had put the empty cups on the kitchen scales. */
const emptyMassesG = [9, 14];
const animalMassMg: Partial<Record<AnimalGroup, number>> = {
  isopod: 60,
  springtail: 1,
  roach: 300,
  beetle: 900,
};
const perCup: Partial<Record<AnimalGroup, number>> = { isopod: 15, roach: 12, beetle: 4 };

/** Cups that were weighed, and what goes into them: so packing sheets tell what a parcel weighs. */
export function writeCups(tx: Db, now: number) {
  const ids = startingCups.map((cup, i) =>
    insertCup(tx, { ...cup, emptyMassG: emptyMassesG[i] ?? 12, note: 'Measured in the demo.' }, now),
  );
  const [small = null, medium = null] = ids;
  savePackingHabits(tx, { cupId: small, roomForPackMm: usualRoomForPackMm, customsHeading: '' });
  for (const [group, animalsPerCup] of Object.entries(perCup))
    saveGroupPacking(tx, group as AnimalGroup, {
      cupId: group === 'isopod' ? small : medium,
      animalsPerCup,
      ventilation: '',
      padding: '',
    });
  for (const { id, animalGroup, sellable } of tx.select().from(species).all()) {
    const massMg = animalMassMg[animalGroup];
    if (!sellable || massMg === undefined) continue;
    const values = { cupId: null, animalsPerCup: null, animalMassMg: massMg, ventilation: '', padding: '' };
    saveSpeciesPacking(tx, id, values);
  }
}
