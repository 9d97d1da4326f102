import { weekdayWords } from '../../shared/parcels/carrier-form.ts';
import { habitWords } from '../../shared/parcels/habits-form.ts';
import { massUnitOf } from '../../shared/parcels/typed-mass.ts';
import { countryName } from '../../shared/settings/countries.ts';
import { fieldUnitsOf } from '../../shared/settings/typed-units.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { firstWeekdayOf, weekdaysFrom } from '../../shared/settings/week.ts';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf, SelectField } from '../layout/form.tsx';
import { defaultLocale, formatMoney, formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { Areas, type AreasProps, optionsOf } from './part-areas.tsx';
import { caution } from './say-packing.ts';

type CarrierRow = {
  id: number;
  name: string;
  cutOff: string | null;
  collectsOn: string;
  country: string;
  region: string | null;
  transitDays: number;
  mayHold: boolean;
  holdPriceMinor: number;
  retiredAt: number | null;
};

export type CarriersPageProps = AreasProps & {
  units: UnitSystem;
  currency: string;
  carriers: readonly CarrierRow[];
  usual: { carrierId: number | null };
  habitsForm: FormState;
};

const daysOf = (digits: string, locale = defaultLocale) =>
  weekdaysFrom(firstWeekdayOf(locale))
    .filter((day) => digits.includes(String(day)))
    .map((day) => weekdayWords[day]?.slice(0, 3))
    .join(', ');

function RowActions({ row, furniture }: { row: CarrierRow; furniture: Furniture }) {
  const path = `/parcels/carriers/${row.id}`;
  return (
    <>
      <a href={`${path}/edit`} aria-label={`Edit ${row.name}`}>
        Edit
      </a>{' '}
      <PostButton
        furniture={furniture}
        action={`${path}/${row.retiredAt === null ? 'retire' : 'bring-back'}`}
        label={row.retiredAt === null ? 'Not used any more' : 'Use it again'}
        ariaLabel={`${row.retiredAt === null ? 'Not used any more' : 'Use it again'}: ${row.name}`}
        keyPart={`carrier-${row.id}`}
        kind="quiet"
      />
    </>
  );
}

function Carriers({ furniture, carriers, currency, mayEdit, usual }: CarriersPageProps) {
  return (
    <DataTable
      caption="Carriers"
      hideCaption
      rows={carriers}
      rowKey={({ id }) => id}
      columns={[
        {
          key: 'name',
          head: 'Carrier',
          rowHeader: true,
          cell: (row) => (
            <>
              {row.name}
              {row.retiredAt !== null && <small class="under"> no longer used</small>}
              {row.id === usual.carrierId && <small class="under"> the usual one</small>}
            </>
          ),
        },
        { key: 'days', head: 'You send on', cell: (row) => daysOf(row.collectsOn, furniture.locale) },
        { key: 'until', head: 'Until', cell: (row) => row.cutOff ?? 'no set time' },
        { key: 'transit', head: 'On the way', cell: (row) => `${row.transitDays} d` },
        {
          key: 'holidays',
          head: 'Holidays of',
          cell: (row) => `${countryName(row.country)}${row.region ? `, ${row.region}` : ''}`,
        },
        {
          key: 'hold',
          head: 'Held for pickup',
          cell: (row) => (row.mayHold ? formatMoney(row.holdPriceMinor, currency, furniture.locale) : 'no'),
        },
        ...(mayEdit
          ? [
              {
                key: 'do',
                head: 'Change',
                hideHead: true,
                phoneLabel: '',
                cell: (row: CarrierRow) => <RowActions row={row} furniture={furniture} />,
              },
            ]
          : []),
      ]}
    />
  );
}

type FigureProps = { form: FormState; name: string; unit: string; help?: string };
const Figure = ({ form, name, unit, help }: FigureProps) => (
  <Field
    label={habitWords[name] ?? name}
    inputMode="decimal"
    size="short"
    unit={unit}
    help={help}
    {...fieldOf(form, name)}
    required
  />
);

function Habits({ furniture, habitsForm: form, places, carriers, units }: CarriersPageProps) {
  const degrees = units === 'us' ? '°F' : '°C';
  const chosen = { origin: optionsOf(places), carrier: optionsOf(carriers) };
  return (
    <section class="parcel-part" id="habits">
      <h2>How parcels are packed here</h2>
      <p class="quiet">
        The figures to begin with are common practice, no source. Weigh a cup and measure your room once.
      </p>
      <Form furniture={furniture} action="/parcels/carriers/habits">
        <FilledFrom form={form} words={habitWords} choices={chosen} />
        <ErrorSummary errors={form.errors} formId={form.id} labels={habitWords} />
        <SelectField
          label="Where parcels start"
          options={optionsOf(places)}
          empty="the one place that is a start"
          {...fieldOf(form, 'origin')}
        />
        <SelectField
          label="Usual carrier"
          options={optionsOf(carriers.filter(({ retiredAt }) => retiredAt === null))}
          empty="none, or the only one"
          {...fieldOf(form, 'carrier')}
        />
        <Field label="Boxes are closed at" type="time" size="short" {...fieldOf(form, 'packedAt')} required />
        <Figure form={form} name="start" unit={fieldUnitsOf(units).temp} />
        <Figure form={form} name="cupMass" unit={massUnitOf(units)} help="With moist filling and lid." />
        <Figure form={form} name="cupVolume" unit="L" help="Where the cup of a species was not measured." />
        <Figure
          form={form}
          name="heatCapacity"
          unit="kJ/(kg K)"
          help={`Moist soil about ${formatNumber(2.5, furniture.locale, 1)}; water has ${formatNumber(4.2, furniture.locale, 1)}. More holds warmth longer.`}
        />
        <Figure
          form={form}
          name="errorAtOnce"
          unit={degrees}
          help="Both ways: colder and warmer are worked out."
        />
        <Figure form={form} name="errorPerDay" unit={degrees} />
        <Figure form={form} name="stale" unit="h" />
        <Actions>
          <Button>Save</Button>
        </Actions>
      </Form>
    </section>
  );
}

/** Carriers, whose weather counts where, and how parcels are packed. */
export function CarriersPage(props: CarriersPageProps) {
  const { furniture, carriers, mayEdit } = props;
  return (
    <Shell
      furniture={furniture}
      title="Carriers and habits"
      purpose="By whom parcels go, on which days, and what is taken for granted when their warmth is worked out."
      width="wide"
      breadcrumbs={[{ href: '/parcels/packing', label: 'Packing day' }]}
      actions={
        mayEdit && (
          <LinkButton href="/parcels/carriers/new" kind="main">
            New carrier
          </LinkButton>
        )
      }
    >
      <p class="caution-line">{caution}</p>
      {carriers.length === 0 ? (
        <Empty
          title="No carrier yet. Write down the service your parcels go by: its days, its hours, its holidays."
          step={
            mayEdit ? { href: '/parcels/carriers/new', label: 'Write the first carrier down' } : undefined
          }
        />
      ) : (
        <Carriers {...props} />
      )}
      <Areas {...props} />
      {mayEdit && <Habits {...props} />}
    </Shell>
  );
}
