import { z } from 'zod';
import { tempC } from '../climate/vapour.ts';
import { day } from '../days.ts';
import { lowAndHigh } from './climate-day.ts';
import {
  ambientCurve,
  boxFields,
  checkBox,
  checkLimits,
  checkWarmUp,
  heatPackFields,
  LONGEST_TRIP_H,
  limitFields,
  meltingPackFields,
  parcelContents,
} from './parcel-form.ts';

export const WAYS = ['delivered', 'held'] as const;
export type Way = (typeof WAYS)[number];
/** As forecast; colder and warmer by the error of the forecast; late. */
export const SCENARIOS = ['forecast', 'colder', 'warmer', 'late'] as const;
export type Scenario = (typeof SCENARIOS)[number];

const name = z.string().min(1).max(80);
const price = z.int().min(0).max(100_000_000).default(0);
const left = z.int().min(0).max(1_000_000).nullable().default(null);
const litres = z.number().min(0).max(1_000);

/** A box with its price in minor units and how many are left; null where they are not counted. */
const boxOption = z
  .strictObject({ name, ...boxFields, price, left })
  .superRefine((box, context) => checkBox(box, context, true));
export type BoxOption = z.output<typeof boxOption>;

/** `smallestBoxL`: a smaller box has no air or no room for it. `most`: at most so many of it in one box. */
const packExtras = {
  name,
  price,
  left,
  smallestBoxL: litres.default(0),
  most: z.int().min(1).max(4).default(1),
};
const packOption = z
  .discriminatedUnion('kind', [
    z.strictObject({ ...heatPackFields, ...packExtras }),
    z.strictObject({ ...meltingPackFields, ...packExtras }),
  ])
  .superRefine(checkWarmUp);
export type PackOption = z.output<typeof packOption>;

const speciesLimits = z.strictObject({ name, ...limitFields }).superRefine(checkLimits);
export type SpeciesLimits = z.output<typeof speciesLimits>;

const scenarioCurves = z.strictObject({
  forecast: ambientCurve,
  colder: ambientCurve,
  warmer: ambientCurve,
  late: ambientCurve,
});

/** A day of dispatch; with the air of its trip for each way, or else the route says it. */
const tripDay = z
  .strictObject({
    dispatchOn: day,
    arrivesOn: day,
    delivered: scenarioCurves.optional(),
    held: scenarioCurves.optional(),
  })
  .superRefine(({ dispatchOn, arrivesOn }, context) => {
    if (arrivesOn < dispatchOn)
      context.addIssue({ code: 'custom', path: ['arrivesOn'], message: 'must not be before dispatchOn' });
  });
export type TripDay = z.output<typeof tripDay>;

/**
 * A part of the way, in the weather of a place (warmer by so much, in a van in the sun) or at a steady temperature. One leg
 * leaves its hours out and takes what is left until the arrival; those `afterArrival` come on top: the porch, the counter.
 */
const leg = z
  .strictObject({
    place: name.optional(),
    steadyC: tempC.optional(),
    hours: z.number().gt(0).max(LONGEST_TRIP_H).optional(),
    way: z.enum(WAYS).nullable().default(null),
    afterArrival: z.boolean().default(false),
    warmerByC: z.number().min(-20).max(40).default(0),
  })
  .superRefine((one, context) => {
    if ((one.place === undefined) === (one.steadyC === undefined))
      context.addIssue({
        code: 'custom',
        path: ['place'],
        message: 'a leg has a place or steadyC, one of the two',
      });
    if (one.afterArrival && one.hours === undefined)
      context.addIssue({
        code: 'custom',
        path: ['hours'],
        message: 'is missing: after the arrival it must be said',
      });
  });
export type Leg = z.output<typeof leg>;

const placeWeather = z.strictObject({
  name,
  latitude: z.number().min(-90).max(90),
  days: z.array(lowAndHigh).max(400).default([]),
});
export type PlaceWeather = z.output<typeof placeWeather>;

const hourOfDay = z.number().min(0).max(24);

/** Where a parcel comes through, in which weather, and how far that is to be trusted. Hours of the day as at each place. */
const route = z
  .strictObject({
    places: z.array(placeWeather).max(50),
    legs: z.array(leg).min(1).max(20),
    packedAtHour: hourOfDay,
    deliveredAtHour: hourOfDay,
    /** How late a late parcel is; a day where nothing is said. */
    lateHours: z.number().min(1).max(96).optional(),
    forecastOn: day,
    errorC: z.strictObject({
      atOnce: z.number().min(0).max(15),
      perDay: z.number().min(0).max(5),
    }),
  })
  .superRefine(({ places, legs }, context) => {
    const fault = (path: (string | number)[], message: string) =>
      context.addIssue({ code: 'custom', path, message });
    for (const [i, { place }] of legs.entries())
      if (place !== undefined && !places.some((one) => one.name === place))
        fault(['legs', i, 'place'], 'is none of the places');
    for (const way of WAYS) {
      const own = legs.filter((one) => one.way === null || one.way === way);
      const open = own.filter(({ hours, afterArrival }) => hours === undefined && !afterArrival);
      if (own.length > 0 && open.length !== 1)
        fault(['legs'], `${way}: exactly one leg leaves its hours out, here ${open.length}`);
    }
  });
export type Route = z.output<typeof route>;

/** An order's contents, what there is to send it in, and the days it could start. Prices in minor units. */
export const parcelOptionsInput = z
  .strictObject({
    boxes: z.array(boxOption).min(1).max(50),
    packs: z.array(packOption).max(50).default([]),
    contents: z.strictObject({ ...parcelContents.shape, volumeL: litres.default(0) }),
    startTempC: tempC,
    species: z.array(speciesLimits).min(1).max(100),
    days: z.array(tripDay).max(60).default([]),
    route: route.optional(),
    ways: z
      .array(z.enum(WAYS))
      .min(1)
      .max(2)
      .default([...WAYS]),
    heldPrice: price,
  })
  .superRefine(({ days, route: way, boxes, packs }, context) => {
    const fault = (path: (string | number)[], message: string) =>
      context.addIssue({ code: 'custom', path, message });
    for (const [i, one] of days.entries())
      if (!way && !one.delivered && !one.held)
        fault(['days', i], 'has no air: give delivered or held, or a route');
    for (const [list, options] of Object.entries({ boxes, packs }))
      for (const [i, option] of options.entries())
        if (options.findIndex((other) => other.name === option.name) < i)
          fault([list, i, 'name'], 'stands there twice');
  });
export type ParcelOptionsQuestion = z.output<typeof parcelOptionsInput>;
