import { fromRound, inPart, roundPath } from '../../shared/checks/round-address.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { healthWords } from '../cultures/say.ts';
import { PostButton } from '../layout/button.tsx';
import { Code } from '../layout/code.tsx';
import { formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Day } from '../layout/number.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { sayGroups, sayMinutes } from '../surplus/say-count-next.ts';
import type { RoundRowData } from './part-round-row.tsx';
import { dueWords } from './say-round.ts';

export type WaitingData = {
  id: number;
  code: string;
  what: string;
  untilOn: string;
  reason: string;
  by: string | null;
};
export type NotCountedData = {
  id: number;
  code: string;
  onDay: string;
  minutes: number;
  /** What it would free now; null where it is not worth a count any more. */
  gain: number | null;
  method: string;
};

/** So many lines of each list; a page that hundreds are put off on is still a page. */
const mostLines = 60;

function Rest({ count, locale }: { count: number; locale?: string }) {
  if (count <= mostLines) return null;
  return <p class="quiet">And {formatNumber(count - mostLines, locale)} more.</p>;
}

type EndProps<Row> = { rows: readonly Row[]; furniture: Furniture; part: number | null };

/** What is due and waits all the same: nothing is skipped without somebody having said why. */
export function Waiting({ rows, furniture, part }: EndProps<WaitingData>) {
  if (rows.length === 0) return null;
  return (
    <section aria-labelledby="round-waiting">
      <h2 id="round-waiting">Put off</h2>
      <ul class="round-list">
        {rows.slice(0, mostLines).map((r) => (
          <li key={r.id} class="round-row round-row-done">
            <div class="round-what">
              <Code href={cultureHref(r.code)}>{r.code}</Code> {dueWords[r.what]} waits until{' '}
              <Day iso={r.untilOn} form="weekday" locale={furniture.locale} />
              {r.by && ` (${r.by})`}: {r.reason}
            </div>
            <div class="round-buttons">
              <PostButton
                furniture={furniture}
                action={`/round/put-offs/${r.id}/undo${inPart(part)}`}
                label="Undo"
                ariaLabel={`Undo the putting off of ${r.code}`}
                kind="quiet"
              />
            </div>
          </li>
        ))}
      </ul>
      <Rest count={rows.length} locale={furniture.locale} />
    </section>
  );
}

/** Counts that fell away with their day: not made, and whether they are still worth it. */
export function NotCounted({ rows, furniture, part }: EndProps<NotCountedData>) {
  if (rows.length === 0) return null;
  const { locale } = furniture;
  return (
    <section aria-labelledby="round-not-counted">
      <h2 id="round-not-counted">Asked for, not counted</h2>
      <ul class="round-list">
        {rows.map((r) => (
          <li key={r.id} class="round-row">
            <div class="round-what">
              <Code href={cultureHref(r.code)}>{r.code}</Code> asked for on{' '}
              <Day iso={r.onDay} form="weekday" locale={locale} />
              <span class="round-reason" data-computed={r.gain === null ? undefined : 'count-next'}>
                {r.gain === null
                  ? 'not counted, and not worth a count any more'
                  : `not counted, still worth it: likely frees ${sayGroups(r.gain, locale)}, ${sayMinutes(r.minutes, locale)}`}
              </span>
            </div>
            <div class="round-buttons">
              {r.gain !== null && (
                <PostButton
                  furniture={furniture}
                  action="/surplus/count-next"
                  label="On today's round"
                  ariaLabel={`Count ${r.code} today`}
                  fields={{ codes: r.code, first: 1, back: roundPath(part) }}
                  keyPart={`again-${r.id}`}
                />
              )}
              <a
                class="round-wait"
                href={`${cultureHref(r.code)}/count?from=${fromRound(part)}&method=${r.method}`}
              >
                Count now
              </a>
            </div>
          </li>
        ))}
      </ul>
      {rows.some(({ gain }) => gain !== null) && <WorkedOut of="count-next" />}
    </section>
  );
}

/** Cultures in trouble, for whoever decides. */
export function NeedsOwner({ rows, furniture }: Omit<EndProps<RoundRowData>, 'part'>) {
  if (rows.length === 0) return null;
  return (
    <section aria-labelledby="needs-owner">
      <h2 id="needs-owner">Wants the owner's eye</h2>
      <ul>
        {rows.slice(0, mostLines).map((r) => (
          <li key={r.code}>
            <Code href={cultureHref(r.code)}>{r.code}</Code> {healthWords[r.health]}
            {r.place ? `, ${r.place}` : ''}.{' '}
            <a href={`${cultureHref(r.code)}/trace?what=${r.health}`}>Who had contact</a>
          </li>
        ))}
      </ul>
      <Rest count={rows.length} locale={furniture.locale} />
    </section>
  );
}
