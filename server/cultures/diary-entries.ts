import { type DiaryForm, movedAnimals, retirementReasons } from '../../shared/cultures/diary-form.ts';
import { survivalOf } from '../../shared/records/die-off-share.ts';
import { mlOf } from '../../shared/settings/typed-volume.ts';
import type { Contacts } from '../traces/queries-typed.ts';
import type { Culture } from './queries.ts';
import type { NewEntry } from './queries-diary.ts';

export type EntryBase = Pick<NewEntry, 'onDay' | 'via' | 'madeBy' | 'madeAt'>;
export type MovedEntry = NewEntry & { animals: number };

const movedColumns = (form: { animals?: number; adults?: number; juveniles?: number }) => ({
  animals: movedAnimals(form),
  adults: form.adults ?? null,
  juveniles: form.juveniles ?? null,
});

export type MovedForm = { animals?: number; adults?: number; juveniles?: number; note: string };

/** Animals that leave `from`, for another culture where one is named. */
export function harvestEntry(
  form: MovedForm,
  from: Pick<Culture, 'id'>,
  base: EntryBase,
  to?: Pick<Culture, 'id'>,
): MovedEntry {
  const { note } = form;
  const columns = movedColumns(form);
  return { ...base, ...columns, cultureId: from.id, kind: 'harvest', otherCultureId: to?.id ?? null, note };
}

/** Animals that enter `into`, from another culture where one is named. */
export function additionEntry(
  form: MovedForm,
  into: Pick<Culture, 'id'>,
  base: EntryBase,
  from?: Pick<Culture, 'id'>,
): MovedEntry {
  const { note } = form;
  const columns = movedColumns(form);
  return {
    ...base,
    ...columns,
    cultureId: into.id,
    kind: 'addition',
    otherCultureId: from?.id ?? null,
    note,
  };
}

/** A meal, and the feeder culture it came from; without words of its own it is called after what lives there. */
const mealOf = (food: string | undefined, feeder: Contacts['feeder']) => ({
  food: (food || (feeder?.name ?? '')).slice(0, 80),
  otherCultureId: feeder?.id ?? null,
});

type About = { culture: Culture; everMoved: boolean; feeder: Contacts['feeder'] };

/** The entries that a form stands for in the culture's own diary, in their order. */
export function entriesOf(
  form: DiaryForm,
  { culture, everMoved, feeder }: About,
  base: EntryBase,
): NewEntry[] {
  const own = { ...base, cultureId: culture.id, kind: form.kind, note: form.note };
  switch (form.kind) {
    case 'feed':
      return [{ ...own, ...mealOf(form.food, feeder) }];
    case 'water':
      return [{ ...own, waterMl: mlOf(form.amount, form.amountUnit) }];
    case 'harvest':
      return [harvestEntry(form, culture, base)];
    case 'addition':
      return [additionEntry(form, culture, base)];
    case 'die-off': {
      const { survivalMedian, survivalSdLog } = survivalOf(form.lost, form.sure === 'roughly');
      return [{ ...own, survivalMedian, survivalSdLog }];
    }
    case 'mites': {
      const quarantine = { ...own, kind: 'quarantine' as const, note: 'Mites were seen.' };
      return form.quarantineToo === 'yes' ? [own, quarantine] : [own];
    }
    case 'move': {
      const moved = { ...own, placeId: form.placeId };
      if (everMoved || culture.placeId === null) return [moved];
      // The diary must know where it stood, or taking this move out again could not bring it back there.
      const stood = { placeId: culture.placeId, onDay: culture.foundedOn, note: 'Where it stood before.' };
      return [{ ...own, ...stood }, moved];
    }
    case 'retirement':
      return [{ ...own, note: [`${retirementReasons[form.why]}.`, form.note].filter(Boolean).join(' ') }];
    default:
      return [own];
  }
}
