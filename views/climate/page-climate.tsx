import type { Leaving } from '../../shared/climate/limits.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { Empty } from '../layout/empty.tsx';
import { formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { exactTemp, leavingWords } from './say.ts';

export type ClimateRow = {
  id: number;
  fullName: string;
  isRoom: boolean;
  last: {
    at: number;
    tempC: number;
    humidityPct: number | null;
    vpdKpa: number | null;
    isFresh: boolean;
  } | null;
  leaving: Leaving[];
};

type ClimatePageProps = {
  furniture: Furniture;
  rows: ClimateRow[];
  units: UnitSystem;
  timeZone: string;
  mayEdit: boolean;
};

function columns({ furniture, units, timeZone }: ClimatePageProps): Column<ClimateRow>[] {
  const { locale } = furniture;
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
      key: 'humidity',
      head: 'Humidity',
      numeric: true,
      cell: (row) => (row.last?.humidityPct == null ? '' : `${formatNumber(row.last.humidityPct, locale)} %`),
    },
    {
      key: 'dry',
      head: 'How dry',
      numeric: true,
      cell: (row) => (row.last?.vpdKpa == null ? '' : `${formatNumber(row.last.vpdKpa, locale, 2)} kPa`),
    },
    {
      key: 'when',
      head: 'Read',
      cell: (row) =>
        row.last && (
          <>
            <Moment at={row.last.at} timeZone={timeZone} locale={locale} />
            {!row.last.isFresh && <small class="under"> old</small>}
          </>
        ),
    },
  ];
}

/** What was measured, and every room; the rest stands folded away. */
const isShown = (row: ClimateRow) => row.last !== null || row.isRoom;

export function ClimatePage(props: ClimatePageProps) {
  const { furniture, rows, units, mayEdit } = props;
  const leaving = rows.filter((row) => row.leaving.length > 0);
  return (
    <Shell
      furniture={furniture}
      title="Climate"
      purpose="The air of your rooms and shelves: it decides how fast cultures dry and when broods hatch."
      width="wide"
    >
      {leaving.map((row) => (
        <Notice key={row.id} tone={row.leaving.some((one) => one.isDeadly) ? 'harm' : 'needs-you'}>
          {row.fullName} is at {row.last && exactTemp(row.last.tempC, units, furniture.locale)}:{' '}
          {row.leaving.map((one) => leavingWords(one, units, furniture.locale)).join('; ')}.
        </Notice>
      ))}
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
            rowTone={(row) => (row.leaving.length > 0 ? 'needs-you' : undefined)}
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
          <p class="quiet">
            Open a place to write down a reading, bring in a file or set up a sensor. A place without readings
            of its own takes those of the place it stands in.
          </p>
        </>
      )}
    </Shell>
  );
}
