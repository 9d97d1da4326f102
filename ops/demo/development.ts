import { eq } from 'drizzle-orm';
import { saveStages } from '../../server/development/queries.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { species } from '../../server/schema/tables.ts';
import { addDays } from '../../shared/days.ts';
import { thermalConstant } from '../../shared/development/thermal-constant.ts';
import type { Colony } from './colony.ts';

type Times = { coolC: number; coolDays: number; warmC: number; warmDays: number };

/** Invented: what this business noted in its own boxes, on a cool shelf and on a warm one. No facts about these animals. */
const times: { name: string; hatch?: Times; adult?: Times }[] = [
  { name: 'Armadillidium maculatum', hatch: { coolC: 18, coolDays: 58, warmC: 25, warmDays: 31 } },
  { name: 'Porcellio laevis', hatch: { coolC: 18, coolDays: 46, warmC: 25, warmDays: 25 } },
  { name: 'Porcellionides pruinosus', hatch: { coolC: 18, coolDays: 36, warmC: 25, warmDays: 19 } },
  { name: 'Drosophila hydei', adult: { coolC: 18, coolDays: 26, warmC: 25, warmDays: 13 } },
];
const source = 'noted in our own boxes (invented for the demo)';

export function writeDevelopment(tx: Db) {
  for (const { name, ...own } of times) {
    const row = tx.select({ id: species.id }).from(species).where(eq(species.scientificName, name)).get();
    if (!row) throw new Error(`The demo needs ${name}.`);
    const rows = (['hatch', 'adult'] as const).flatMap((stage) => {
      const figures = own[stage];
      return figures ? [{ speciesId: row.id, stage, source, ...figures }] : [];
    });
    saveStages(tx, row.id, rows);
  }
}

/** Of each species two cultures in whose looks females with eggs were noted: young of the first are due, of the other not. */
const shares = [1.02, 0.45];
/** About as warm as the heated room is. */
const roomC = 21.5;

/** Females with eggs, noted at the look nearest before the day from which young are due about now. */
export function broods(colonies: readonly Colony[], today: string) {
  for (const { name, hatch } of times) {
    if (!hatch) continue;
    const { lowerC, degreeDays } = thermalConstant([
      { tempC: hatch.coolC, days: hatch.coolDays },
      { tempC: hatch.warmC, days: hatch.warmDays },
    ]);
    const lasts = degreeDays / (roomC - lowerC);
    const own = colonies.filter((one) => one.species.scientificName === name);
    for (const [i, share] of shares.entries()) {
      const eggsOn = addDays(today, -Math.round(lasts * share));
      const colony = own.at(-1 - i);
      const looks = colony?.entries.filter((entry) => entry.kind === 'check') ?? [];
      const seen = looks.findLast((entry) => entry.onDay <= eggsOn);
      if (!seen) continue;
      for (const look of looks.filter((entry) => entry.onDay >= seen.onDay)) {
        look.youngSeen = false;
        look.eggsSeen = look === seen;
      }
    }
  }
}
