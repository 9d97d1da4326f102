import { type Day, daysBetween } from '../days.ts';

/** The height of the sun's middle at which its upper edge shows, refraction counted in, degrees. */
const HORIZON_DEGREES = -0.8333;
const RADIANS = Math.PI / 180;
const HOURS_PER_RADIAN = 12 / Math.PI;

/**
 * The sun's declination on a day, in radians, positive in the northern summer. The year is taken as 365 days, so that
 * it is a fraction of a degree off at the end of a leap year.
 *
 * Source: Spencer (1971), Fourier series representation of the position of the sun, Search 2(5):172.
 *
 * @example declinationOf('2026-06-21') // 0.409, 23.4 degrees
 */
export function declinationOf(date: Day): number {
  const angle = (2 * Math.PI * daysBetween(`${date.slice(0, 4)}-01-01`, date)) / 365;
  return (
    0.006918 -
    0.399912 * Math.cos(angle) +
    0.070257 * Math.sin(angle) -
    0.006758 * Math.cos(2 * angle) +
    0.000907 * Math.sin(2 * angle) -
    0.002697 * Math.cos(3 * angle) +
    0.00148 * Math.sin(3 * angle)
  );
}

/**
 * The hours between sunrise and sunset on a day at a latitude in degrees, north positive: 0 in the polar night, 24 in
 * the polar day. Solar noon is at 12.
 *
 * Source: declination after Spencer (1971); the hour angle of sunrise is spherical trigonometry.
 *
 * @example dayLengthH('2026-06-21', 52.1) // 16.76
 */
export function dayLengthH(date: Day, latitude: number): number {
  const declination = declinationOf(date);
  const north = latitude * RADIANS;
  const cosine =
    (Math.sin(HORIZON_DEGREES * RADIANS) - Math.sin(north) * Math.sin(declination)) /
    (Math.cos(north) * Math.cos(declination));
  return 2 * HOURS_PER_RADIAN * Math.acos(Math.min(1, Math.max(-1, cosine)));
}
