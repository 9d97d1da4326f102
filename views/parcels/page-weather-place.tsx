import { type WeatherPart, weatherPartWords } from '../../shared/parcels/weather-form.ts';
import { fieldUnitsOf } from '../../shared/settings/typed-units.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import { formatDay, formatMoment } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { WeatherFile } from './part-weather-file.tsx';
import { ageWords, hoursOld, lowToHigh, STALE_H } from './say-weather.ts';

type Day = { onDay: string; minC: number; maxC: number; source: string; forecastAt: number; via: string };

export type WeatherPlacePageProps = {
  furniture: Furniture;
  place: {
    id: number;
    name: string;
    label: string;
    part: WeatherPart;
    latitude: number;
    longitude: number;
    retiredAt: number | null;
  };
  /** From today on; within a day the newest first. */
  days: Day[];
  fetches: { service: string; askedAt: number; nextAt: number; trouble: string | null }[];
  units: UnitSystem;
  timeZone: string;
  now: number;
  mayEdit: boolean;
  form: FormState;
  fileForm: FormState;
  faults: { line: number; why: string }[];
};

function Days({ furniture, place, days, units, now }: WeatherPlacePageProps) {
  const { locale } = furniture;
  const isUsed = (day: Day) => days.find(({ onDay }) => onDay === day.onDay) === day;
  return (
    <DataTable
      caption="Lows and highs"
      hideCaption
      rows={days}
      rowKey={(day) => `${day.onDay} ${day.source}`}
      rowTone={(day) => (isUsed(day) && hoursOld(day.forecastAt, now) > STALE_H ? 'needs-you' : undefined)}
      columns={[
        {
          key: 'day',
          head: 'Day',
          rowHeader: true,
          cell: ({ onDay }) => formatDay(onDay, locale, 'weekday'),
        },
        {
          key: 'temps',
          head: 'Low to high',
          numeric: true,
          cell: ({ minC, maxC }) => lowToHigh(minC, maxC, units, locale),
        },
        { key: 'source', head: 'Who says so', cell: ({ source }) => source },
        { key: 'age', head: 'Forecast', cell: ({ forecastAt }) => ageWords(forecastAt, now) },
        { key: 'used', head: 'Used', cell: (day) => (isUsed(day) ? 'yes' : 'no: an older forecast') },
        {
          key: 'out',
          head: 'Wrong?',
          hideHead: true,
          phoneLabel: '',
          cell: ({ onDay, source }) => (
            <PostButton
              furniture={furniture}
              action={`/parcels/weather/${place.id}/take-out`}
              label="Take out"
              ariaLabel={`Take out ${formatDay(onDay, locale, 'weekday')} by ${source}`}
              kind="quiet"
              fields={{ onDay, source }}
              keyPart={`${onDay}-${source}`}
            />
          ),
        },
      ]}
    />
  );
}

function AddDay({ furniture, place, form, units }: WeatherPlacePageProps) {
  const unit = fieldUnitsOf(units).temp;
  const labels = { onDay: 'Day', low: 'Low', high: 'High', source: 'Source' };
  return (
    <section class="slip" aria-labelledby="day-title">
      <h2 id="day-title">Write down a day</h2>
      <Form furniture={furniture} action={`/parcels/weather/${place.id}/days`}>
        <ErrorSummary errors={form.errors} labels={labels} />
        <Field label="Day" type="date" size="short" {...fieldOf(form, 'onDay')} required />
        <Field label="Low" inputMode="decimal" size="short" unit={unit} {...fieldOf(form, 'low')} required />
        <Field
          label="High"
          inputMode="decimal"
          size="short"
          unit={unit}
          {...fieldOf(form, 'high')}
          required
        />
        <Field label="Source" maxLength={80} help="Who forecast it." {...fieldOf(form, 'source')} required />
        <Actions>
          <Button kind="main">Write down</Button>
        </Actions>
      </Form>
    </section>
  );
}

function BringFile({ furniture, place, fileForm, faults }: WeatherPlacePageProps) {
  return (
    <WeatherFile
      furniture={furniture}
      action={`/parcels/weather/${place.id}/file`}
      title="Bring in a file"
      columns="date, low, high"
      form={{ ...fileForm, id: 'file' }}
      faults={faults}
    />
  );
}

function Change({ furniture, place }: Pick<WeatherPlacePageProps, 'furniture' | 'place'>) {
  const isRetired = place.retiredAt !== null;
  return (
    <>
      <LinkButton href={`/parcels/weather/${place.id}/edit`}>Edit</LinkButton>
      <PostButton
        furniture={furniture}
        action={`/parcels/weather/${place.id}/${isRetired ? 'bring-back' : 'retire'}`}
        label={isRetired ? 'Bring back' : 'Retire'}
        keyPart="retire"
      />
    </>
  );
}

/** One place: what each source says of its days, and ways to add some. */
export function WeatherPlacePage(props: WeatherPlacePageProps) {
  const { furniture, place, days, fetches, timeZone, mayEdit } = props;
  const degrees = `${place.latitude}°, ${place.longitude}°`;
  return (
    <Shell
      furniture={furniture}
      title={place.name}
      purpose={`Lows and highs by day: ${[weatherPartWords[place.part].label, place.label, degrees].filter(Boolean).join(' · ')}`}
      width="wide"
      breadcrumbs={[{ href: '/parcels/weather', label: 'Weather on the way' }]}
      actions={mayEdit && <Change furniture={furniture} place={place} />}
    >
      {fetches.map(
        ({ service, trouble, nextAt }) =>
          trouble !== null && (
            <Notice key={service} tone="needs-you">
              {service}: {trouble} It is asked again from {formatMoment(nextAt, timeZone, furniture.locale)}{' '}
              on.
            </Notice>
          ),
      )}
      <div class="columns columns-main">
        <div>
          {days.length === 0 ? (
            <Empty title="Nothing is known of the days to come. Write down the first day, bring in a file, or turn a forecast service on." />
          ) : (
            <Days {...props} />
          )}
        </div>
        <div class="beside">
          <AddDay {...props} />
          <BringFile {...props} />
        </div>
      </div>
    </Shell>
  );
}
