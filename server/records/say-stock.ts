import { z } from 'zod';
import { MOST_LITRES } from '../../shared/records/enclosure-size.ts';
import type { StockChoices } from '../../shared/records/stock-choices.ts';
import type { StockPlan } from '../../shared/records/stock-plan.ts';
import { typedNumber } from '../../shared/settings/typed-number.ts';
import { quartsToLitres } from '../../shared/settings/units.ts';
import { animalGroups } from '../../shared/species/columns.ts';
import { optionalLine } from '../../shared/text.ts';
import { type Answer, page, wrongForm } from '../plumbing/answers.ts';
import type { FormBody, FormState, StaffCall } from '../plumbing/call.ts';
import { typed } from '../plumbing/forms.ts';
import { lookIn, previewPage } from './preview.ts';
import { keep } from './say.ts';

type SpeciesChoice = NonNullable<StockChoices['species']>[number];
type EnclosureChoice = NonNullable<StockChoices['enclosures']>[number];

const amount = typedNumber({ above: 0, max: MOST_LITRES }).optional();
const textOf = (body: FormBody, name: string) => {
  const value = body[name];
  return typeof value === 'string' ? value.trim() : '';
};

/** What an option of a species says: `is:Name` one that is there, `group:isopod` a new one of that group. */
function speciesChoices(body: FormBody, plan: StockPlan): SpeciesChoice[] {
  return plan.species.flatMap(({ name }, at): SpeciesChoice[] => {
    const value = textOf(body, `species.${at}`);
    if (value.startsWith('is:')) return [{ name, is: value.slice(3, 123) }];
    const group = animalGroups.find((one) => value === `group:${one}`);
    return group ? [{ name, group }] : [];
  });
}

/** What is there stays as it was found; what is to be made tells how much it holds. */
function enclosureChoices(
  body: FormBody,
  plan: StockPlan,
  usSystem: boolean,
  form: FormState,
): EnclosureChoice[] {
  return plan.enclosures.flatMap(({ name, make }, at): EnclosureChoice[] => {
    const value = textOf(body, `enclosure.${at}`);
    if (value.startsWith('is:')) return [{ name, is: value.slice(3, 123) }];
    const holds = amount.safeParse(textOf(body, `holds.${at}`) || undefined);
    if (!holds.success) {
      form.errors[`holds.${at}`] = holds.error.issues[0]?.message ?? 'Write how much it holds.';
      return [];
    }
    if (holds.data === undefined) return [];
    const litres = usSystem ? quartsToLitres(holds.data) : holds.data;
    // What was guessed and not changed stays a guess of the name, so that it is exact.
    const same = make?.size && Math.abs(make.size.litres - litres) < 0.006 && make.guessed;
    return same ? [] : [{ name, litres: Math.min(litres, MOST_LITRES) }];
  });
}

const roomForm = z.object({ room: optionalLine(80) });

/** Which species, enclosures and room of the records the files mean, or how they are made. */
export async function sayStock(call: StaffCall): Promise<Answer> {
  const { upload, look } = await lookIn(call);
  const form = typed(call.body);
  const species = speciesChoices(call.body, look.plan);
  const enclosures = enclosureChoices(call.body, look.plan, call.business.units === 'us', form);
  const room = roomForm.safeParse({ room: textOf(call.body, 'room') });
  if (!room.success) form.errors.room = room.error.issues[0]?.message ?? 'Write a shorter name.';
  if (Object.keys(form.errors).length > 0 || !room.success)
    return wrongForm(previewPage(call, upload, look, { ...form, id: 'stock' }));
  const choices = { species, enclosures, ...(room.data.room === '' ? {} : { room: room.data.room }) };
  const back = (late: FormState) => page(previewPage(call, upload, look, { ...late, id: 'stock' }), 409);
  return keep(call, upload, { choices }, { hash: '#stock', back });
}
