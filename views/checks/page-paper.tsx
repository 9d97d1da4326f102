import { LinkButton } from '../layout/button.tsx';
import { Code, Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Day } from '../layout/number.tsx';
import { PaperFoot } from '../layout/paper-foot.tsx';
import { Shell } from '../layout/shell.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { placeHeading } from './part-round-place.tsx';
import type { RoundRowData } from './part-round-row.tsx';
import { sayRound } from './say-worked-out.ts';

export type PaperPlace = { name: string | null; isQuarantine: boolean; rows: RoundRowData[] };

export type PaperPageProps = { furniture: Furniture; today: string; places: readonly PaperPlace[] };

/** Drawn, because a browser prints no empty field of a form well. */
const TickBox = () => (
  <svg class="tick-box" viewBox="0 0 16 16" width="16" height="16" aria-hidden="true" focusable="false">
    <rect x="1" y="1" width="14" height="14" fill="none" stroke="currentColor" stroke-width="1.5" />
  </svg>
);

function Row({ row }: { row: RoundRowData }) {
  return (
    <tr>
      <td>
        <TickBox />
      </td>
      <th scope="row">
        <Code>{row.code}</Code>
        <span class="under">
          <Latin>{row.scientificName}</Latin>
          {row.position && `, position ${row.position}`}
        </span>
      </th>
      <td>
        {row.open.map(({ what, reason }) => (
          <span key={what} class="paper-want" data-computed="due">
            {reason}
          </span>
        ))}
      </td>
      <td class="paper-note" />
    </tr>
  );
}

function Place({ place, index }: { place: PaperPlace; index: number }) {
  const id = `place-${index}`;
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{placeHeading(place)}</h2>
      <table class="data-table paper-round">
        <thead>
          <tr>
            <th scope="col">Done</th>
            <th scope="col">Culture</th>
            <th scope="col">Wants</th>
            <th scope="col">Seen</th>
          </tr>
        </thead>
        <tbody>
          {place.rows.map((row) => (
            <Row key={row.code} row={row} />
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** The round for a clipboard: a box to tick and room to write for each culture that wants something. */
export function PaperPage({ furniture, today, places }: PaperPageProps) {
  const count = places.reduce((sum, { rows }) => sum + rows.length, 0);
  return (
    <Shell
      furniture={furniture}
      title="The round on paper"
      purpose={
        <>
          <Day iso={today} form="weekday" locale={furniture.locale} />, {formatCount(count, 'culture')} in
          walking order.
          <span class="not-printed">
            {' '}
            Print it with your browser; write down here afterwards what was seen.
          </span>
        </>
      }
      breadcrumbs={[{ href: '/round', label: 'Round' }]}
      actions={<LinkButton href="/round">The round</LinkButton>}
    >
      {places.length === 0 && (
        <Empty title="Nothing is left of today's round." step={{ href: '/round', label: 'To the round' }} />
      )}
      {places.map((place, i) => (
        <Place key={`${place.name}-${place.rows[0]?.code}`} place={place} index={i} />
      ))}
      {places.length > 0 && (
        <>
          <WorkedOut
            of={['due', 'drying', 'development']}
            so={sayRound(
              places.flatMap(({ rows }) => rows),
              { today, locale: furniture.locale },
            )}
          />
          <PaperFoot furniture={furniture}>
            Looks, food and substrate: the day each was last done and the days that its species wants. Water:
            what was seen of the surface, and how dry the air is. Young: degree-days. A count is asked for
            where it may free groups.
          </PaperFoot>
        </>
      )}
    </Shell>
  );
}
