import type { AirWarning, OutSpecies, Side } from '../../shared/climate/air-warning.ts';
import { formatTemp, type UnitSystem } from '../../shared/settings/units.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { Latin } from '../layout/code.tsx';
import { formatClock, formatDay } from '../layout/format.ts';
import { Notice } from '../layout/notice.tsx';
import { exactTemp } from './say.ts';

export type AirWarningData = AirWarning & { placeId: number; place: string };

/** How temperatures and times are written, and what time it is. */
export type AirSaid = { units: UnitSystem; timeZone: string; today: string; now: number; locale?: string };

type Said = AirSaid & { warning: AirWarningData };

/** "14:00" today, "Tue 24 Nov, 14:00" before. */
function when(at: number, { timeZone, today, locale }: AirSaid): string {
  const clock = formatClock(at, timeZone, locale);
  const day = dayInZone(at, timeZone);
  return day === today ? clock : `${formatDay(day, locale, 'weekday')}, ${clock}`;
}

/** A limit as it is written: rounded to its safe side. */
const limitWords = (limitC: number, side: Side, { units, locale }: AirSaid) =>
  formatTemp(limitC, units, locale, side === 'above' ? 'down' : 'up');

function Names({ species }: { species: readonly OutSpecies[] }) {
  return (
    <>
      {species.map(({ scientificName }, i) => (
        <span key={scientificName}>
          {i > 0 && (i === species.length - 1 ? ' and ' : ', ')}
          <Latin>{scientificName}</Latin>
        </span>
      ))}
    </>
  );
}

/** Species that bear the same, with what that is: "X and Y (up to 28 °C)". */
function Affected({ warning, ...said }: Said) {
  const { species, side } = warning;
  const limits = [...new Set(species.map(({ limitC }) => limitC))];
  return (
    <>
      {limits.map((limitC, i) => (
        <span key={limitC}>
          {i > 0 && (i === limits.length - 1 ? ' and ' : ', ')}
          <Names species={species.filter((one) => one.limitC === limitC)} />
          {side === 'above' ? ' (up to ' : ' (down to '}
          {limitWords(limitC, side, said)})
        </span>
      ))}
    </>
  );
}

function Since({ warning, ...said }: Said) {
  const { sinceAt, readAt, isSinceKnown } = warning;
  if (sinceAt >= readAt) return null;
  return (
    <>
      {isSinceKnown ? 'since ' : 'at least since '}
      {when(sinceAt, said)}{' '}
    </>
  );
}

/** Where it was farther out than the newest reading says. */
function Farthest({ warning, ...said }: Said) {
  const { side, nowC, farthestC } = warning;
  if (Math.abs(farthestC - nowC) < 0.5) return null;
  const temp = exactTemp(farthestC, said.units, said.locale);
  return side === 'above' ? <> It was up to {temp}.</> : <> It was down to {temp}.</>;
}

function Deadly({ warning, ...said }: Said) {
  const { side } = warning;
  const deadly = warning.species.flatMap((one) =>
    one.deadlyC === null ? [] : [{ ...one, limitC: one.deadlyC }],
  );
  if (deadly.length === 0) return null;
  return (
    <>
      {' '}
      <strong>
        {side === 'above' ? 'Deadly above ' : 'Deadly below '}
        {deadly.map(({ scientificName, limitC }, i) => (
          <span key={scientificName}>
            {i > 0 && ', '}
            {limitWords(limitC, side, said)} for <Latin>{scientificName}</Latin>
          </span>
        ))}
        .
      </strong>
    </>
  );
}

const oldMs = 3_600_000;

function Age({ warning, ...said }: Said) {
  const { readAt, isSilent } = warning;
  if (isSilent) return <> No reading since {when(readAt, said)}: what it is now nobody knows.</>;
  return said.now - readAt > oldMs ? <> Read at {when(readAt, said)}.</> : null;
}

/** What is usual; no advice for a species. Common practice, no source. */
const caution: Record<Side, string> = {
  above:
    'Measure beside the enclosures, then cool or air the place slowly, or move them, and look at the animals.',
  below: 'Measure beside the enclosures, then warm the place slowly, or move them, and look at the animals.',
};

/** One place that is too warm or too cold for what is kept there: what is known, how old that is, what is usual. */
function AirWarningNotice({ warning, link, ...said }: Said & { link?: boolean }) {
  const { side, place, placeId, nowC, species } = warning;
  const isDeadly = species.some(({ deadlyC }) => deadlyC !== null);
  return (
    <Notice tone={isDeadly ? 'harm' : 'needs-you'} class="air-warning">
      {link ? <a href={`/climate/${placeId}?span=2`}>{place}</a> : place} {warning.isSilent ? 'was' : 'is'} at{' '}
      {exactTemp(nowC, said.units, said.locale)}, <Since warning={warning} {...said} />
      {side === 'above' ? 'too warm for ' : 'too cold for '}
      <Affected warning={warning} {...said} />.
      <Farthest warning={warning} {...said} />
      <Deadly warning={warning} {...said} />
      <Age warning={warning} {...said} /> {caution[side]}
    </Notice>
  );
}

/** All of them, the worst first. */
export function AirWarnings({
  warnings,
  ...said
}: AirSaid & { warnings: readonly AirWarningData[]; link?: boolean }) {
  return (
    <>
      {warnings.map((warning) => (
        <AirWarningNotice key={`${warning.placeId} ${warning.side}`} warning={warning} {...said} />
      ))}
    </>
  );
}
