import type { FeederPlan } from '../feeders/page-feeders.tsx';
import { LinkButton, PostButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';
import { Day } from '../layout/number.tsx';
import { startWords } from './say-round.ts';

/** Feeder cultures of one species that the plan wants started this week. */
export type StartData = {
  feederId: number;
  scientificName: string;
  commonName: string;
  toStart: number;
  started: number;
  eaters: number;
  /** The day on which what is started today first gives. */
  neededOn: string;
  /** What the number of starts comes from. */
  plan: FeederPlan;
  waits: { id: number; untilOn: string; reason: string; by: string | null } | null;
};

type StartProps = { furniture: Furniture; start: StartData };

function Waits({ furniture, start }: StartProps) {
  if (!start.waits) return null;
  const { id, untilOn, reason, by } = start.waits;
  return (
    <>
      <span class="round-done">
        put off until <Day iso={untilOn} form="weekday" locale={furniture.locale} />
        {by && ` (${by})`}: {reason}
      </span>
      <PostButton
        furniture={furniture}
        action={`/round/start-put-offs/${id}/undo`}
        label="Undo"
        ariaLabel={`Undo the putting off: ${startWords(start)}`}
        kind="quiet"
      />
    </>
  );
}

function Buttons({ furniture, start }: StartProps) {
  if (start.toStart === 0)
    return (
      <span class="round-done">
        <Mark kind="done" /> Started this week
      </span>
    );
  if (start.waits) return <Waits furniture={furniture} start={start} />;
  return (
    <>
      <LinkButton
        href={`/cultures/new?species=${start.feederId}`}
        ariaLabel={`Start one: ${start.commonName || start.scientificName}`}
      >
        Start one
      </LinkButton>
      <a
        class="round-wait"
        href={`/round/starts/${start.feederId}/put-off`}
        aria-label={`Put off: ${startWords(start)}`}
      >
        Put off
      </a>
    </>
  );
}

/** What the feeder plan wants started this week, above the walk: it is work at the bench. */
export function Starts({ furniture, starts }: { furniture: Furniture; starts: readonly StartData[] }) {
  if (starts.length === 0) return null;
  const { locale } = furniture;
  return (
    <section class="round-stop" aria-labelledby="round-starts">
      <div class="round-stop-head">
        <h2 id="round-starts">At the bench: feeders</h2>
        <a href="/feeders">The feeder plan</a>
      </div>
      <ul class="round-list">
        {starts.map((start) => (
          <li
            key={start.feederId}
            class={start.toStart === 0 || start.waits ? 'round-row round-row-done' : 'round-row'}
          >
            <div class="round-what">
              <strong data-computed="feeders">{startWords(start)}</strong>{' '}
              <Latin>{start.scientificName}</Latin>
              <span class="round-reason">
                feeders: {formatCount(start.eaters, 'colony eats', 'colonies eat', locale)} from them, what is
                started today gives from <Day iso={start.neededOn} form="month-day" locale={locale} />
                {start.started > 0 && `; ${start.started} started this week`}
              </span>
            </div>
            <div class="round-buttons">
              <Buttons furniture={furniture} start={start} />
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}
