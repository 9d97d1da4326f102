import { z } from 'zod';
import { day } from '../days.ts';
import { typedNumber } from '../settings/typed-number.ts';
import { neededLine, optionalLine } from '../text.ts';

export const weatherParts = ['origin', 'hub', 'destination'] as const;
export type WeatherPart = (typeof weatherParts)[number];
export const weatherPartWords: Record<WeatherPart, { label: string; help: string }> = {
  origin: { label: 'Where parcels start', help: 'your own place' },
  hub: { label: 'On the way', help: 'where the carrier sorts' },
  destination: { label: 'Where they arrive', help: 'a town or a region you send to' },
};

/** Public forecast services that can be asked, by the address they are known by. */
export const serviceKeys = ['met.no', 'weather.gov'] as const;
export type ServiceKey = (typeof serviceKeys)[number];

export const weatherPlaceForm = z.object({
  name: neededLine(80, 'Give it a name.'),
  label: optionalLine(80),
  part: z.enum(weatherParts, { error: 'Choose what it is.' }),
  latitude: typedNumber({ min: -90, max: 90 }),
  longitude: typedNumber({ min: -180, max: 180 }),
});
export const weatherPlaceWords: Record<string, string> = {
  name: 'Name',
  label: 'Postcode or town',
  part: 'What it is',
  latitude: 'Latitude',
  longitude: 'Longitude',
};

/** One day's low and high by hand; the source is who said so. */
export const weatherDayForm = z.object({
  onDay: day,
  low: typedNumber({ min: -60, max: 160 }),
  high: typedNumber({ min: -60, max: 160 }),
  source: neededLine(80, 'Say who forecast it.'),
});

export const weatherFileForm = z.object({ source: neededLine(80, 'Say who forecast it.') });

/** Where a service is asked, and whom it may write to; the address must be one of the web. */
export const weatherServiceForm = z.object({
  address: z
    .string({ error: 'Write its address.' })
    .trim()
    .max(300, 'At most 300 characters.')
    .pipe(z.url({ protocol: /^https?$/, error: 'Write an address that begins with https://.' })),
  contact: z
    .string()
    .trim()
    .max(200, 'At most 200 characters.')
    // It goes into a header of every question, where a line end would begin another one.
    .regex(/^[\x20-\x7e]*$/, 'Plain letters only, such as an e-mail address.')
    .default(''),
  isOn: z.literal('yes').optional(),
});
