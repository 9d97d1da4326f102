import type { Span } from '../../shared/climate/downsample.ts';
import { vapour } from '../../shared/climate/vapour.ts';
import { fieldUnitsOf } from '../../shared/settings/typed-units.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { Actions, Button, PostButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import { FileFaults } from '../layout/file-faults.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import { defaultLocale, formatPercent } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Day, Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { type AirSaid, type AirWarningData, AirWarnings } from './part-air-warning.tsx';
import { RoomChart } from './part-chart.tsx';
import { SensorsPart } from './part-sensors.tsx';
import { exactTemp, sayAir } from './say.ts';

export type ChartSpan = 2 | 30 | 365;
type ReadingRow = { id: number; at: number; tempC: number; humidityPct: number | null; via: string };

export type RoomPageProps = {
  furniture: Furniture;
  place: { id: number; fullName: string };
  units: UnitSystem;
  timeZone: string;
  span: ChartSpan;
  spans: Span[];
  range: { lowC: number; highC: number } | null;
  /** Species whose air this is. */
  kept: number;
  air: AirSaid & { warnings: AirWarningData[] };
  newest: ReadingRow[];
  /** The last day on which it was read; its single readings may be gone. */
  lastDay: string | null;
  /** Null for whoever may not see them. */
  sensors: { id: number; name: string; madeAt: number; retiredAt: number | null }[] | null;
  form: FormState;
  sensorForm: FormState;
  fileForm: FormState;
  faults: { line: number; why: string }[] | null;
};

const spanWords: [ChartSpan, string][] = [
  [2, '2 days'],
  [30, '30 days'],
  [365, 'a year'],
];

const viaWords: Record<string, string> = {
  page: 'by hand',
  file: 'from a file',
  sensor: 'by a sensor',
  demo: 'demo',
};

function AddReading({ furniture, place, units, form }: RoomPageProps) {
  const labels = { temp: 'Temperature', humidity: 'Humidity', onDay: 'Day', time: 'Time' };
  return (
    <section class="slip" aria-labelledby="reading-title">
      <h2 id="reading-title">Write down a reading</h2>
      <Form furniture={furniture} action={`/climate/${place.id}/readings`}>
        <ErrorSummary errors={form.errors} labels={labels} />
        <Field
          label="Temperature"
          inputMode="decimal"
          size="short"
          unit={fieldUnitsOf(units).temp}
          {...fieldOf(form, 'temp')}
          required
        />
        <Field
          label="Humidity"
          inputMode="decimal"
          size="short"
          unit="%"
          {...fieldOf(form, 'humidity')}
          optional
        />
        <details class="more" open={form.errors.onDay !== undefined || form.errors.time !== undefined}>
          <summary>Not read just now</summary>
          <Field label="Day" type="date" size="short" {...fieldOf(form, 'onDay')} optional />
          <Field label="Time" type="time" size="short" {...fieldOf(form, 'time')} optional />
        </details>
        <Actions>
          <Button kind="main">Write down</Button>
        </Actions>
      </Form>
    </section>
  );
}

function BringFile({ furniture, place, fileForm, faults }: RoomPageProps) {
  return (
    <details class="more" open={fileForm.errors.file !== undefined}>
      <summary>Bring in a file</summary>
      <Form furniture={furniture} action={`/climate/${place.id}/file`} encType="multipart/form-data">
        <Field
          label="CSV file"
          type="file"
          accept=".csv,text/csv"
          help="The first line names the columns: time, temperature, humidity. Times as 2026-11-25 14:30."
          {...fieldOf(fileForm, 'file')}
        />
        {faults && <FileFaults faults={faults} />}
        <Actions>
          <Button>Bring in</Button>
        </Actions>
      </Form>
    </details>
  );
}

/** "Last read 25 Nov 2026, 22:00: 30.3 °C, 51 %, by a sensor." */
function LastRead({ furniture, newest: [last], units, timeZone }: RoomPageProps) {
  if (!last) return null;
  const { locale } = furniture;
  return (
    <p>
      Last read <Moment at={last.at} timeZone={timeZone} locale={locale} />:{' '}
      <strong>{exactTemp(last.tempC, units, locale)}</strong>
      {last.humidityPct !== null && `, ${formatPercent(last.humidityPct / 100, locale)}`},{' '}
      {viaWords[last.via] ?? last.via}.
    </p>
  );
}

/** How dry the air was at the last reading, step by step. */
function sayLast({ furniture, place, newest: [last], units }: RoomPageProps): string[] {
  if (!last || last.humidityPct === null) return [];
  const { tempC, humidityPct } = last;
  const read = { tempC, humidityPct, air: vapour({ tempC, humidityPct }) };
  return [sayAir(place.fullName, read, { units, locale: furniture.locale })];
}

function Newest({ furniture, place, newest, units, timeZone }: RoomPageProps) {
  const { locale } = furniture;
  return (
    <DataTable
      caption="The newest readings"
      hideCaption
      rows={newest}
      rowKey={(row) => row.id}
      columns={[
        {
          key: 'at',
          head: 'Read',
          rowHeader: true,
          cell: (row) => <Moment at={row.at} timeZone={timeZone} locale={locale} />,
        },
        {
          key: 'temp',
          head: 'Temperature',
          numeric: true,
          cell: (row) => exactTemp(row.tempC, units, locale),
        },
        {
          key: 'humidity',
          head: 'Humidity',
          numeric: true,
          cell: (row) => (row.humidityPct === null ? '' : formatPercent(row.humidityPct / 100, locale)),
        },
        { key: 'via', head: 'How', cell: (row) => viaWords[row.via] ?? row.via },
        {
          key: 'out',
          head: 'Wrong?',
          hideHead: true,
          phoneLabel: '',
          cell: (row) => (
            <PostButton
              furniture={furniture}
              action={`/climate/${place.id}/readings/${row.id}/take-out`}
              label="Take out"
              kind="quiet"
              keyPart={String(row.id)}
            />
          ),
        },
      ]}
    />
  );
}

function Chart({ place, span, spans, range, units, timeZone, furniture }: RoomPageProps) {
  return (
    <section aria-label="Temperatures">
      <p class="filter-links">
        {spanWords.map(([days, words], i) => (
          <span key={days}>
            {i > 0 && ' · '}
            <a href={`/climate/${place.id}?span=${days}`} aria-current={days === span ? 'true' : undefined}>
              {words}
            </a>
          </span>
        ))}
      </p>
      {spans.length === 0 ? (
        <p class="quiet">Nothing was read in this time.</p>
      ) : (
        <RoomChart
          spans={spans}
          isHours={span === 2}
          range={range}
          units={units}
          timeZone={timeZone}
          locale={furniture.locale ?? defaultLocale}
        />
      )}
    </section>
  );
}

/** One measured place: its chart, its readings, and the ways to add some. */
export function RoomPage(props: RoomPageProps) {
  const { furniture, place, air, newest, lastDay, sensors, sensorForm } = props;
  return (
    <Shell
      furniture={furniture}
      title={place.fullName}
      purpose="The air of this place."
      width="wide"
      breadcrumbs={[{ href: '/climate', label: 'Climate' }]}
    >
      <AirWarnings {...air} />
      <div class="columns columns-main">
        <div>
          {lastDay === null ? (
            <Empty title="Nothing was read here yet. Write down the first reading, bring in a file, or set up a sensor." />
          ) : (
            <>
              <LastRead {...props} />
              <Chart {...props} />
              <WorkedOut of="air" so={sayLast(props)} />
              {newest.length > 0 ? (
                <details class="more">
                  <summary>The newest readings</summary>
                  <Newest {...props} />
                </details>
              ) : (
                <p class="quiet">
                  Last read on <Day iso={lastDay} locale={furniture.locale} />: single readings are gone, what
                  each day came to is kept.
                </p>
              )}
            </>
          )}
        </div>
        <div class="beside">
          <AddReading {...props} />
          <BringFile {...props} />
          {sensors && (
            <SensorsPart furniture={furniture} placeId={place.id} sensors={sensors} form={sensorForm} />
          )}
        </div>
      </div>
    </Shell>
  );
}
