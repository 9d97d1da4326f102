import { z } from 'zod';
import { day } from '../days.ts';
import { typedNumber } from '../settings/typed-number.ts';
import { optionalLine } from '../text.ts';
import type { Picked } from './packing-day-form.ts';
import { WAYS } from './parcel-options-form.ts';

/** An option as an address or a form names it; an empty pack is none. */
const option = {
  on: day,
  box: z.string().min(1).max(80),
  pack: z.string().max(80).default(''),
  packs: z.string().regex(/^[0-4]$/),
  way: z.enum(WAYS),
};

const pickedOf = (form: z.output<z.ZodObject<typeof option>>): Picked => ({
  box: form.box,
  pack: form.pack === '' ? null : form.pack,
  packs: Number(form.packs),
  dispatchOn: form.on,
  way: form.way,
});

export const optionAsked = z.object(option).transform(pickedOf);

export const optionFields = ({ box, pack, packs, dispatchOn, way }: Picked): Record<string, string> => ({
  on: dispatchOn,
  box,
  pack: pack ?? '',
  packs: String(packs),
  way,
});

export const chooseForm = z.object({
  version: z.string().max(60).default(''),
  reason: optionalLine(500),
  tell: z.literal('yes').optional(),
});

export const holdForm = z.object({
  version: z.string().max(60).default(''),
  until: z.preprocess((value) => value ?? '', day),
  tell: z.literal('yes').optional(),
});

const choice = typedNumber({ min: 1, max: Number.MAX_SAFE_INTEGER, whole: true }).optional();
export const wayForm = z.object({
  place: choice,
  carrier: choice,
  /** Beginning of the postcodes that the place's weather counts for from now on. */
  also: z.literal('yes').optional(),
});

export const areaForm = z.object({
  country: z.string({ error: 'Choose a country.' }).regex(/^[A-Z]{2}$/, 'Choose a country.'),
  postcode: optionalLine(12),
  place: typedNumber({ min: 1, max: Number.MAX_SAFE_INTEGER, whole: true }),
});
