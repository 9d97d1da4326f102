import { cultureHref } from '../cultures/page-list.tsx';
import { healthWords } from '../cultures/say.ts';
import { Button } from '../layout/button.tsx';
import { classes } from '../layout/classes.ts';
import { Code } from '../layout/code.tsx';

import { Empty } from '../layout/empty.tsx';
import { Form } from '../layout/form.tsx';
import { formatSpan } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Day } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { NotCounted, type NotCountedData, Waiting, type WaitingData } from './part-round-end.tsx';
import { RoundProgress } from './part-round-progress.tsx';
import { ManyBar, RoundRow, type RoundRowData } from './part-round-row.tsx';
import { type StartData, Starts } from './part-starts.tsx';

export type RoundPageProps = {
  furniture: Furniture;
  today: string;
  /** Due today or done today, in walking order. */
  rows: RoundRowData[];
  /** Feeder cultures to start this week. */
  starts: StartData[];
  kept: number;
  /** Days until the next check is due, when nothing is due today. */
  nextInDays: number | null;
  needsOwner: RoundRowData[];
  /** Work that is put off, with who did so and why. */
  waiting: WaitingData[];
  /** Counts asked of the rounds of the days before that nobody has made. */
  notCounted: NotCountedData[];
};

type Stop = { name: string; rows: RoundRowData[] };

/** Rows that stand together, in the order they are walked past; quarantine is a stop of its own, at the end. */
function stops(rows: RoundRowData[]): Stop[] {
  const all: Stop[] = [];
  for (const row of rows) {
    const name = row.inQuarantine
      ? 'Quarantine: last, with clean hands and tools of its own'
      : (row.shelf ?? 'No place yet');
    const last = all.at(-1);
    if (last?.name === name) last.rows.push(row);
    else all.push({ name, rows: [row] });
  }
  return all;
}

function NeedsOwner({ rows }: { rows: RoundRowData[] }) {
  if (rows.length === 0) return null;
  return (
    <section aria-labelledby="needs-owner">
      <h2 id="needs-owner">Wants the owner's eye</h2>
      <ul>
        {rows.map((r) => (
          <li key={r.code}>
            <Code href={cultureHref(r.code)}>{r.code}</Code> {healthWords[r.health]}
            {r.place ? `, ${r.place}` : ''}.{' '}
            <a href={`${cultureHref(r.code)}/trace?what=${r.health}`}>Who had contact</a>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** A whole place at once, where more than one culture there wants a look and is well. */
function WholePlace({ furniture, stop }: { furniture: Furniture; stop: Stop }) {
  const codes = stop.rows
    .filter((row) => row.health === 'well' && row.open.some(({ what }) => what === 'check'))
    .map((row) => row.code);
  if (codes.length < 2) return null;
  return (
    <Form
      furniture={furniture}
      action="/round/all-well"
      keyPart={`at-${stop.rows[0]?.code.replace(/[^\w.-]/g, '_')}`}
      class="post-button round-whole"
      ariaLabel={`All of ${stop.name}`}
    >
      {codes.map((code) => (
        <input key={code} type="hidden" name="codes" value={code} />
      ))}
      <Button>{`All ${codes.length} here are well`}</Button>
    </Form>
  );
}

function Stops({ furniture, rows }: Pick<RoundPageProps, 'furniture' | 'rows'>) {
  return (
    <>
      {stops(rows).map((stop) => (
        <section
          key={`${stop.name}-${stop.rows[0]?.code}`}
          class={classes('round-stop', stop.rows[0]?.inQuarantine && 'round-stop-last')}
          aria-label={stop.name}
        >
          <div class="round-stop-head">
            <h2>{stop.name}</h2>
            {!stop.rows[0]?.inQuarantine && <WholePlace furniture={furniture} stop={stop} />}
          </div>
          <ul class="round-list">
            {stop.rows.map((row) => (
              <RoundRow key={row.code} furniture={furniture} row={row} />
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}

function Walk(props: RoundPageProps) {
  const { furniture, rows } = props;
  const open = rows.filter((r) => r.open.length > 0);
  return (
    <>
      <RoundProgress done={rows.length - open.length} total={rows.length} locale={furniture.locale} />
      {open.length === 0 && <p class="verdict">The round is done.</p>}
      <Stops furniture={furniture} rows={rows} />
      {open.length > 1 && (
        <ManyBar furniture={furniture} did={open.some((r) => r.open.some(({ byTap }) => byTap))} />
      )}
    </>
  );
}

function NothingDue({ kept, nextInDays }: Pick<RoundPageProps, 'kept' | 'nextInDays'>) {
  if (kept === 0)
    return (
      <Empty
        title="No cultures yet."
        step={{ href: '/cultures/new', label: 'Write down the first culture' }}
      />
    );
  return (
    <Empty
      title={
        nextInDays === null
          ? 'Nothing is due.'
          : `Nothing is due today; the next look is due in ${formatSpan(nextInDays)}.`
      }
      step={{ href: '/cultures', label: 'See all cultures' }}
    />
  );
}

export function RoundPage(props: RoundPageProps) {
  const { furniture, today, rows, starts, needsOwner, waiting, notCounted } = props;
  return (
    <Shell
      furniture={furniture}
      title="Round"
      purpose={
        <>
          What wants a look on <Day iso={today} form="long" locale={furniture.locale} />, in walking order.
        </>
      }
    >
      <div id="round" data-live="/round/live">
        <Starts starts={starts} furniture={furniture} />
        {rows.length === 0 ? <NothingDue {...props} /> : <Walk {...props} />}
        <NotCounted rows={notCounted} furniture={furniture} />
        <Waiting rows={waiting} furniture={furniture} />
        <NeedsOwner rows={needsOwner} />
      </div>
    </Shell>
  );
}
