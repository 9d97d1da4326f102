import { type WeatherPart, weatherPartWords } from '../../shared/parcels/weather-form.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { LinkButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import type { FormState } from '../layout/form.tsx';
import { formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { WeatherFile } from './part-weather-file.tsx';
import { ageWords, hoursOld, lowToHigh, STALE_H } from './say-weather.ts';

type Day = { onDay: string; minC: number; maxC: number; source: string; forecastAt: number };
type PlaceRow = {
  id: number;
  name: string;
  label: string;
  part: WeatherPart;
  retiredAt: number | null;
  /** The last of the days in a row from today on. */
  until: string | null;
  days: Day[];
  trouble: string | null;
};

export type WeatherPageProps = {
  furniture: Furniture;
  units: UnitSystem;
  now: number;
  mayEdit: boolean;
  servicesOn: number;
  places: PlaceRow[];
  fileForm: FormState;
  faults: { line: number; why: string }[];
};

const isStale = ({ days }: PlaceRow, now: number) =>
  days.some(({ forecastAt }) => hoursOld(forecastAt, now) > STALE_H);

function NextDays({ row, units, locale }: { row: PlaceRow; units: UnitSystem; locale: string | undefined }) {
  if (row.days.length === 0) return <>nothing yet</>;
  return (
    <>
      {row.days.map(({ onDay, minC, maxC }) => (
        <span key={onDay} class="weather-day">
          {formatDay(onDay, locale, 'weekday')}: {lowToHigh(minC, maxC, units, locale)}
        </span>
      ))}
    </>
  );
}

function Source({ row, now }: { row: PlaceRow; now: number }) {
  const [first] = row.days;
  return (
    <>
      {first && (
        <>
          {first.source}, {ageWords(first.forecastAt, now)}
        </>
      )}
      {row.trouble && <small class="under"> {row.trouble}</small>}
    </>
  );
}

function Places({ furniture, places, units, now }: WeatherPageProps) {
  const { locale } = furniture;
  return (
    <DataTable
      caption="Places"
      hideCaption
      rows={places}
      rowKey={(row) => row.id}
      rowTone={(row) =>
        row.retiredAt === null && (row.until === null || row.trouble !== null || isStale(row, now))
          ? 'needs-you'
          : undefined
      }
      columns={[
        {
          key: 'name',
          head: 'Place',
          rowHeader: true,
          cell: (row) => (
            <>
              <a href={`/parcels/weather/${row.id}`}>{row.name}</a>
              <small class="under"> {row.retiredAt === null ? row.label : 'no longer used'}</small>
            </>
          ),
        },
        { key: 'part', head: 'What it is', cell: (row) => weatherPartWords[row.part].label },
        {
          key: 'days',
          head: 'The next days',
          phoneWide: true,
          cell: (row) => <NextDays row={row} units={units} locale={locale} />,
        },
        {
          key: 'until',
          head: 'Known until',
          cell: (row) => (row.until === null ? 'not even today' : formatDay(row.until, locale, 'weekday')),
        },
        {
          key: 'source',
          head: 'Who says so',
          phoneWide: true,
          cell: (row) => <Source row={row} now={now} />,
        },
      ]}
    />
  );
}

function BringFile({ furniture, fileForm, faults }: WeatherPageProps) {
  return (
    <WeatherFile
      furniture={furniture}
      action="/parcels/weather/file"
      title="Bring in a file for several places"
      columns="place, date, low, high"
      sourceHelp="Who forecast it: it stands beside every figure."
      form={fileForm}
      faults={faults}
    />
  );
}

/** The places parcels come through, and what is known of their weather. */
export function WeatherPage(props: WeatherPageProps) {
  const { furniture, places, mayEdit, servicesOn } = props;
  return (
    <Shell
      furniture={furniture}
      title="Weather on the way"
      purpose="Lows and highs of the places parcels come through."
      width="wide"
      breadcrumbs={mayEdit ? [{ href: '/settings', label: 'Settings' }] : []}
      actions={
        mayEdit && (
          <>
            <LinkButton href="/parcels/weather/new" kind="main">
              New place
            </LinkButton>
            <LinkButton href="/parcels/weather/services">Forecast services</LinkButton>
          </>
        )
      }
    >
      {places.length === 0 ? (
        <Empty
          title="No places yet. Begin with where your parcels start, then the carrier’s hub and the regions you send to."
          step={mayEdit ? { href: '/parcels/weather/new', label: 'Write down the first place' } : undefined}
        />
      ) : (
        <>
          <Places {...props} />
          <BringFile {...props} />
        </>
      )}
      {mayEdit && servicesOn === 0 && (
        <p class="quiet">
          No forecast service is asked. Days are written down by hand or brought in, or{' '}
          <a href="/parcels/weather/services">turn a service on</a>.
        </p>
      )}
    </Shell>
  );
}
