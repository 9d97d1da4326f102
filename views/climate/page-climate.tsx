import type { Vapour } from '../../shared/climate/vapour.ts';
import { Empty } from '../layout/empty.tsx';
import { formatNumber, formatPercent } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Day, Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { Sparkline } from '../layout/sparkline.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { type AirSaid, type AirWarningData, AirWarnings } from './part-air-warning.tsx';
import { exactTemp, sayAir } from './say.ts';

export type ClimateRow = {
  id: number;
  fullName: string;
  isRoom: boolean;
  /** What it was like on the days before: the day counted from the first that is drawn. */
  days: readonly { day: number; minC: number; maxC: number; meanC: number }[];
  last: {
    at: number;
    tempC: number;
    humidityPct: number | null;
    air: Vapour | null;
    isFresh: boolean;
    /** A sensor sent it, and has sent nothing since for hours. */
    isSilent: boolean;
  } | null;
  /** Where it was not read lately: the last day on which it was. */
  lastDay: string | null;
  /** Too warm or too cold for what is kept there. */
  isOut: boolean;
};

type ClimatePageProps = {
  furniture: Furniture;
  rows: ClimateRow[];
  air: AirSaid & { warnings: AirWarningData[] };
  mayEdit: boolean;
};

/** The days before, small: a line for the mean, a band from the coldest to the warmest; and these in words. */
function Days({ days, units, locale }: Pick<ClimateRow, 'days'> & Pick<AirSaid, 'units' | 'locale'>) {
  const [first] = days;
  if (!first) return null;
  const lowest = Math.min(...days.map(({ minC }) => minC));
  const highest = Math.max(...days.map(({ maxC }) => maxC));
  const lastDay = Math.max(1, ...days.map(({ day }) => day));
  return (
    <span class="trend">
      <Sparkline
        from={lowest - 1}
        points={days.map(({ day, minC, maxC, meanC }) => ({
          at: day / lastDay,
          middle: meanC,
          lower: minC,
          upper: maxC,
        }))}
      />
      <span class="trend-words">
        {exactTemp(lowest, units, locale)} to {exactTemp(highest, units, locale)}
      </span>
    </span>
  );
}

function columns({ air: { units, timeZone, locale } }: ClimatePageProps): Column<ClimateRow>[] {
  return [
    {
      key: 'place',
      head: 'Place',
      rowHeader: true,
      cell: (row) => <a href={`/climate/${row.id}`}>{row.fullName}</a>,
    },
    {
      key: 'temp',
      head: 'Temperature',
      numeric: true,
      cell: (row) =>
        row.last ? exactTemp(row.last.tempC, units, locale) : <span class="quiet">not measured</span>,
    },
    {
      key: 'days',
      head: 'Two weeks',
      cell: (row) => <Days days={row.days} units={units} locale={locale} />,
    },
    {
      key: 'humidity',
      head: 'Humidity',
      numeric: true,
      cell: (row) => (row.last?.humidityPct == null ? '' : formatPercent(row.last.humidityPct / 100, locale)),
    },
    {
      key: 'dry',
      computed: 'air',
      head: 'How dry',
      numeric: true,
      cell: (row) => (row.last?.air == null ? '' : `${formatNumber(row.last.air.vpdKpa, locale, 2)} kPa`),
    },
    {
      key: 'when',
      head: 'Read',
      cell: (row) =>
        row.last === null ? (
          row.lastDay && (
            <>
              <Day iso={row.lastDay} locale={locale} /> <small class="under">old</small>
            </>
          )
        ) : (
          <>
            <Moment at={row.last.at} timeZone={timeZone} locale={locale} />
            {row.last.isSilent ? (
              <small class="under"> no reading since</small>
            ) : (
              !row.last.isFresh && <small class="under"> old</small>
            )}
          </>
        ),
    },
  ];
}

/** How dry the places are that were read last, step by step. */
const sayRows = (rows: readonly ClimateRow[], said: AirSaid) =>
  rows.slice(0, 6).map(({ fullName, last }) => {
    if (!last?.air || last.humidityPct === null) return null;
    const { tempC, humidityPct, air } = last;
    return sayAir(fullName, { tempC, humidityPct, air }, said);
  });

/** What was measured, and every room; the rest stands folded away. */
const isShown = (row: ClimateRow) => row.last !== null || row.lastDay !== null || row.isRoom;

export function ClimatePage(props: ClimatePageProps) {
  const { furniture, rows, air, mayEdit } = props;
  return (
    <Shell
      furniture={furniture}
      title="Climate"
      purpose="The air of your rooms and shelves: it decides how fast cultures dry and when broods hatch."
      width="wide"
    >
      <AirWarnings {...air} link />
      {rows.length === 0 ? (
        <Empty
          title="No places yet: readings belong to a room, a rack or a shelf."
          step={mayEdit ? { href: '/places', label: 'Write down your places' } : undefined}
        />
      ) : (
        <>
          <DataTable
            caption="Places and what was read there last"
            hideCaption
            columns={columns(props)}
            rows={rows.filter(isShown)}
            rowKey={(row) => row.id}
            rowTone={(row) => (row.isOut ? 'needs-you' : undefined)}
          />
          {rows.some((row) => !isShown(row)) && (
            <details class="more">
              <summary>Racks and shelves without readings of their own</summary>
              <ul>
                {rows
                  .filter((row) => !isShown(row))
                  .map((row) => (
                    <li key={row.id}>
                      <a href={`/climate/${row.id}`}>{row.fullName}</a>
                    </li>
                  ))}
              </ul>
            </details>
          )}
          <WorkedOut of="air" so={sayRows(rows.filter(isShown), air)} />
          <p class="quiet">
            Open a place to write down a reading, bring in a file or set up a sensor. A place without readings
            of its own takes those of the place it stands in.
          </p>
        </>
      )}
    </Shell>
  );
}
