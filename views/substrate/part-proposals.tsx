import { cultureHref } from '../cultures/page-list.tsx';
import { Code, Latin } from '../layout/code.tsx';
import { formatDay, formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { type Column, DataTable } from '../layout/table.tsx';
import { TakeProposal } from '../splits/part-plans.tsx';
import type { LikelyFull } from '../splits/say-plan.ts';

type Row = { code: string; scientificName: string; enclosureId: number; enclosure: string };
export type ProposedRow = Row & LikelyFull;
export type RenewalRow = Row & { onDay: string; reason: string };

type ProposalsProps<R> = {
  furniture: Furniture;
  rows: readonly R[];
  /** How many more there are than are listed. */
  more: number;
  today: string;
  until: string;
};

const moreWords = (more: number, locale?: string) =>
  more > 0 ? ` ${formatNumber(more, locale)} more stand on their own pages.` : '';

const cultureColumn = <R extends Row>(): Column<R> => ({
  key: 'code',
  head: 'Culture',
  rowHeader: true,
  cell: (row) => (
    <>
      <Code href={cultureHref(row.code)}>{row.code}</Code> <Latin>{row.scientificName}</Latin>
    </>
  ),
});

function takeColumn<R extends Row>(
  furniture: Furniture,
  what: 'split' | 'repot',
  dayOf: (row: R) => string,
): Column<R> {
  return {
    key: 'take',
    head: 'Take over',
    hideHead: true,
    phoneLabel: '',
    cell: (row: R) => (
      <TakeProposal
        furniture={furniture}
        code={row.code}
        what={what}
        day={dayOf(row)}
        enclosureId={row.enclosureId}
        back="substrate"
      />
    ),
  };
}

/** Cultures that will likely be full, each with one press to plan its split. */
export function Proposed({ furniture, rows, more, today, until }: ProposalsProps<ProposedRow>) {
  const { locale } = furniture;
  return (
    <section aria-labelledby="proposed-title" class="not-printed">
      <h2 id="proposed-title">Likely full</h2>
      {rows.length === 0 ? (
        <p class="quiet">No other culture will likely be full by {formatDay(until, locale, 'weekday')}.</p>
      ) : (
        <>
          <p>By their estimates, and with no split planned yet.{moreWords(more, locale)}</p>
          <DataTable
            caption="Cultures that will likely be full"
            hideCaption
            rows={rows}
            rowKey={(row) => row.code}
            columns={[
              cultureColumn<ProposedRow>(),
              {
                key: 'full',
                head: 'Full',
                computed: 'population',
                cell: (row) =>
                  row.fullOn <= today ? 'now' : `about ${formatDay(row.fullOn, locale, 'weekday')}`,
              },
              { key: 'into', head: 'Stands in', cell: (row) => row.enclosure },
              takeColumn<ProposedRow>(furniture, 'split', (row) => row.fullOn),
            ]}
          />
        </>
      )}
    </section>
  );
}

/** Cultures whose substrate is old, each with one press to plan fresh one. */
export function OldSubstrate({ furniture, rows, more }: ProposalsProps<RenewalRow>) {
  if (rows.length === 0) return null;
  return (
    <section aria-labelledby="renewals-title" class="not-printed">
      <h2 id="renewals-title">Old substrate</h2>
      <p>By the rhythm of their species, and with nothing planned yet.{moreWords(more, furniture.locale)}</p>
      <DataTable
        caption="Cultures on old substrate"
        hideCaption
        rows={rows}
        rowKey={(row) => row.code}
        columns={[
          cultureColumn<RenewalRow>(),
          { key: 'why', head: 'Why', computed: 'due', cell: (row) => row.reason },
          { key: 'into', head: 'Stands in', cell: (row) => row.enclosure },
          takeColumn<RenewalRow>(furniture, 'repot', (row) => row.onDay),
        ]}
      />
    </section>
  );
}
