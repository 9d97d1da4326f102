import { roundPath } from '../../shared/checks/round-address.ts';
import { formatNumber } from '../layout/format.ts';
import { type PlaceRows, placeName } from './part-round-place.tsx';

/** A place of the whole round: how much is left there, and in which part it stands (or goes on). */
export type PlaceLeft = Pick<PlaceRows, 'key' | 'name' | 'isQuarantine'> & {
  left: number;
  total: number;
  part: number;
};

/** Which part of a round that has several a page shows, and where else there is something to do. */
export type Parts = {
  part: number;
  of: number;
  /** Still open in this part. */
  open: number;
  places: PlaceLeft[];
  /** The part to go on with: the next with something open, else one before; null where all is done. */
  onward: { part: number; place: PlaceLeft } | null;
};

/** A link to a part: with htmx only the round is changed, not the page around it. */
function PartLink(props: { part: number; at?: string; rel?: string; main?: boolean; children: string }) {
  const { part, at, rel, main, children } = props;
  const path = roundPath(part);
  const isButton = main !== undefined;
  return (
    <a
      href={at ? `${path}#${at}` : path}
      rel={rel}
      class={isButton ? `button button-${main ? 'main' : 'plain'}` : undefined}
      hx-get={path}
      hx-target="#round"
      hx-select="#round"
      hx-swap={`outerHTML show:${at ? `#${at}` : 'window'}:top`}
      hx-push-url={at ? `${path}#${at}` : 'true'}
    >
      {children}
    </a>
  );
}

const leftWords = ({ left, total }: PlaceLeft, locale?: string) =>
  left === 0 ? 'done' : `${formatNumber(left, locale)} left of ${formatNumber(total, locale)}`;

/** "42 left of 180"; comes along with a row of the place that somebody has seen to. */
export function LeftAt(props: { place: PlaceLeft; locale?: string; oob?: boolean }) {
  const { place, locale, oob } = props;
  return (
    <span id={`left-${place.key}`} class="round-left" hx-swap-oob={oob ? 'true' : undefined}>
      {leftWords(place, locale)}
    </span>
  );
}

function Places({ parts, locale }: { parts: Parts; locale?: string }) {
  return (
    <details class="round-places">
      <summary>{`All ${formatNumber(parts.places.length, locale)} places`}</summary>
      <ol>
        {parts.places.map((place) => (
          <li key={place.key}>
            {place.part === parts.part ? (
              <a href={`#place-${place.key}`}>{placeName(place)}</a>
            ) : (
              <PartLink part={place.part} at={`place-${place.key}`}>
                {placeName(place)}
              </PartLink>
            )}
            <span class="visually-hidden">, </span>
            <LeftAt place={place} locale={locale} />
          </li>
        ))}
      </ol>
    </details>
  );
}

function Neighbours({ parts: { part, of }, locale }: { parts: Parts; locale?: string }) {
  return (
    <span class="round-steps">
      {part > 1 && (
        <PartLink part={part - 1} rel="prev" main={false}>
          Earlier part
        </PartLink>
      )}
      <span>{`Part ${formatNumber(part, locale)} of ${formatNumber(of, locale)}`}</span>
      {part < of && (
        <PartLink part={part + 1} rel="next" main={false}>
          Next part
        </PartLink>
      )}
    </span>
  );
}

/** Above the rows: which part this is, the parts beside it, and all places. */
export function PartsHead({ parts, locale }: { parts: Parts; locale?: string }) {
  return (
    <nav class="round-parts" aria-label="Parts of the round" tabIndex={-1}>
      <Neighbours parts={parts} locale={locale} />
      <Places parts={parts} locale={locale} />
    </nav>
  );
}

/** Below the rows: where to go on. Comes along with a row, since what is left elsewhere changes. */
export function PartsFoot({ parts, locale, oob }: { parts: Parts; locale?: string; oob?: boolean }) {
  const { onward, open, part } = parts;
  const where = onward && `${placeName(onward.place)}: ${formatNumber(onward.place.left, locale)} left`;
  return (
    <nav
      id="round-onward"
      class="round-parts"
      aria-label="On with the round"
      hx-swap-oob={oob ? 'true' : undefined}
    >
      {open === 0 && onward && <p class="verdict">All is done in this part.</p>}
      {onward && (
        <PartLink part={onward.part} at={`place-${onward.place.key}`} main={open === 0}>
          {`${onward.part > part ? 'On to' : 'Back to'} ${where}`}
        </PartLink>
      )}
      <Neighbours parts={parts} locale={locale} />
    </nav>
  );
}
