import type { ChoicePlace } from '../../shared/parcels/choice.ts';
import { Notice } from '../layout/notice.tsx';
import { ageWords, hoursOld } from './say-weather.ts';

type Props = { places: readonly ChoicePlace[]; now: number; staleHours: number };

/** One place's weather: who says so, and how old it is. */
export const placeWords = ({ name, source, readAt }: ChoicePlace, now: number): string =>
  readAt === null ? `${name}: no forecast` : `${name}: ${source}, ${ageWords(readAt, now)}`;

export const isStale = ({ readAt }: ChoicePlace, now: number, staleHours: number): boolean =>
  readAt !== null && hoursOld(readAt, now) > staleHours;

/** Where the weather of a packing day comes from, and a warning where it is old. */
export function WeatherAge({ places, now, staleHours }: Props) {
  const once = places.filter((place, i) => places.findIndex(({ name }) => name === place.name) === i);
  if (once.length === 0) return null;
  const stale = once.filter((place) => isStale(place, now, staleHours));
  return (
    <>
      {stale.length > 0 && (
        <Notice
          tone="needs-you"
          links={[{ href: '/parcels/weather', label: 'Bring the weather up to date' }]}
        >
          The forecast for {stale.map(({ name }) => name).join(', ')} is old. The older it is, the more it is
          taken to be off.
        </Notice>
      )}
      <p class="quiet weather-age">Weather. {once.map((place) => placeWords(place, now)).join('; ')}.</p>
    </>
  );
}
