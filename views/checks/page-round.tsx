import { cultureHref } from '../cultures/page-list.tsx';
import { healthWords } from '../cultures/say.ts';
import { classes } from '../layout/classes.ts';
import { Code } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { formatSpan } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Day } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { RoundProgress } from './part-round-progress.tsx';
import { RoundRow, type RoundRowData } from './part-round-row.tsx';

export type RoundPageProps = {
  furniture: Furniture;
  today: string;
  /** Due today or done today, in walking order. */
  rows: RoundRowData[];
  kept: number;
  /** Days until the next check is due, when nothing is due today. */
  nextInDays: number | null;
  needsOwner: RoundRowData[];
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

export function RoundPage(props: RoundPageProps) {
  const { furniture, today, rows, kept, nextInDays, needsOwner } = props;
  const done = rows.filter((r) => r.doneEntry !== null).length;
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
      {kept === 0 ? (
        <Empty
          title="No cultures yet."
          step={{ href: '/cultures/new', label: 'Write down the first culture' }}
        />
      ) : rows.length === 0 ? (
        <Empty
          title={
            nextInDays === null
              ? 'Nothing is due.'
              : `Nothing is due today; the next look is due in ${formatSpan(nextInDays)}.`
          }
          step={{ href: '/cultures', label: 'See all cultures' }}
        />
      ) : (
        <>
          <RoundProgress done={done} total={rows.length} locale={furniture.locale} />
          {stops(rows).map((stop) => (
            <section
              key={`${stop.name}-${stop.rows[0]?.code}`}
              class={classes('round-stop', stop.rows[0]?.inQuarantine && 'round-stop-last')}
              aria-label={stop.name}
            >
              <h2>{stop.name}</h2>
              <ul class="round-list">
                {stop.rows.map((row) => (
                  <RoundRow key={row.code} furniture={furniture} row={row} />
                ))}
              </ul>
            </section>
          ))}
        </>
      )}
      <NeedsOwner rows={needsOwner} />
    </Shell>
  );
}
