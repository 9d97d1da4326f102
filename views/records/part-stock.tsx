import type { EnclosurePlan, SpeciesPlan } from '../../shared/records/stock-plan.ts';
import { litresToQuarts } from '../../shared/settings/units.ts';
import { animalGroups } from '../../shared/species/columns.ts';
import { Latin } from '../layout/code.tsx';
import { Field, type FormState, fieldOf, type OptionGroup, SelectField } from '../layout/form.tsx';
import { formatCount, formatNumber } from '../layout/format.ts';
import { DataTable } from '../layout/table.tsx';
import { groupWords } from '../species/say.ts';
import { formFor, SayForm } from './part-form.tsx';
import type { PreviewProps } from './preview-data.ts';

const cultures = (count: number) => formatCount(count, 'culture');

function speciesOptions(offered: readonly string[]): OptionGroup[] {
  const there = offered.map((name) => ({ value: `is:${name}`, label: name }));
  const made = animalGroups.map((group) => ({
    value: `group:${group}`,
    label: `A new ${groupWords[group]}`,
  }));
  return [
    ...(there.length > 0 ? [{ group: 'A species of yours', options: there }] : []),
    { group: 'Write it down as new', options: made },
  ];
}

const chosenSpecies = ({ is, make }: SpeciesPlan) =>
  is === null ? (make?.group ? `group:${make.group}` : '') : `is:${is}`;

function speciesWords({ is, make }: SpeciesPlan): string {
  if (is !== null) return 'It is there.';
  if (!make?.group) return 'Say what it is.';
  const care = make.starter ? 'with care text and home' : 'no care text yet';
  const mean = make.shares.reduce((sum, share) => sum + share, 0) / make.shares.length;
  const shows =
    make.shares.length > 0
      ? ` Beside full counts about ${formatNumber(mean * 100)} in 100 showed (${formatCount(make.shares.length, 'count')}): that weighs in.`
      : '';
  return `Usual figures with a wide doubt, ${care}.${shows}`;
}

function Species({ plans, offered, form }: { plans: SpeciesPlan[]; offered: string[]; form: FormState }) {
  const options = speciesOptions(offered);
  return (
    <DataTable
      caption="Species"
      rows={plans.map((plan, at) => ({ plan, at }))}
      rowKey={({ at }) => at}
      rowTone={({ plan }) => (plan.make && plan.make.group === null ? 'needs-you' : undefined)}
      columns={[
        {
          key: 'name',
          head: 'In your file',
          rowHeader: true,
          cell: ({ plan }) => (
            <>
              <Latin>{plan.name}</Latin>
              {plan.alsoCalled.length > 0 && (
                <span class="under">{plan.alsoCalled.slice(0, 3).join(', ')}</span>
              )}
            </>
          ),
        },
        { key: 'cultures', head: 'For', cell: ({ plan }) => cultures(plan.cultures) },
        {
          key: 'choice',
          head: 'Here it is',
          phoneWide: true,
          cell: ({ plan, at }) => (
            <SelectField
              label={`What ${plan.name} is here`}
              hideLabel
              empty={plan.make?.group === null ? 'Choose' : undefined}
              options={options}
              help={speciesWords(plan)}
              {...fieldOf(form, `species.${at}`)}
            />
          ),
        },
      ]}
    />
  );
}

const inUnit = (litres: number, us: boolean) =>
  String(Math.round((us ? litresToQuarts(litres) : litres) * 100) / 100);

const guessWords = ({ is, make }: EnclosurePlan) =>
  is !== null || !make?.size
    ? undefined
    : make.guessed
      ? 'Taken from its name. Measure one when you can.'
      : 'As you said. Measure one when you can.';

function Enclosures(props: PreviewProps & { own: FormState }) {
  const { stock, offered, usSystem, own } = props;
  const unit = usSystem ? 'qt' : 'litres';
  const there = offered.enclosures.map((name) => ({ value: `is:${name}`, label: name }));
  const options: OptionGroup[] = [
    { group: 'Write it down as new', options: [{ value: 'new', label: 'A new enclosure' }] },
    ...(there.length > 0 ? [{ group: 'An enclosure of yours', options: there }] : []),
  ];
  return (
    <DataTable
      caption="Enclosures"
      rows={stock.enclosures.map((plan, at) => ({ plan, at }))}
      rowKey={({ at }) => at}
      rowTone={({ plan }) => (plan.make && plan.make.size === null ? 'needs-you' : undefined)}
      columns={[
        {
          key: 'name',
          head: 'In your file',
          rowHeader: true,
          cell: ({ plan }) => plan.name ?? 'No enclosure is told',
        },
        { key: 'cultures', head: 'For', cell: ({ plan }) => cultures(plan.cultures) },
        {
          key: 'choice',
          head: 'Here it is',
          phoneWide: true,
          cell: ({ plan, at }) => (
            <SelectField
              label={`What ${plan.name ?? 'the enclosure'} is here`}
              hideLabel
              options={options}
              {...fieldOf(own, `enclosure.${at}`)}
            />
          ),
        },
        {
          key: 'holds',
          head: 'It holds',
          phoneWide: true,
          cell: ({ plan, at }) =>
            plan.make && (
              <Field
                label={`How much ${plan.name ?? 'it'} holds`}
                hideLabel
                unit={unit}
                inputMode="decimal"
                size="short"
                help={guessWords(plan)}
                {...fieldOf(own, `holds.${at}`)}
              />
            ),
        },
      ]}
    />
  );
}

function valuesOf({ stock, usSystem }: PreviewProps): FormState['values'] {
  return Object.fromEntries([
    ...stock.species.map((plan, at) => [`species.${at}`, chosenSpecies(plan)]),
    ...stock.enclosures.flatMap(({ is, make }, at) => [
      [`enclosure.${at}`, is === null ? 'new' : `is:${is}`],
      [`holds.${at}`, make?.size ? inUnit(make.size.litres, usSystem) : ''],
    ]),
    ['room', stock.room ?? ''],
  ]);
}

function PlacesAndLines(props: PreviewProps & { own: FormState }) {
  const { stock, needsRoom, offered, own } = props;
  const made = stock.places.filter((place) => place.steps.length > 0);
  const newLines = stock.lines.filter((line) => line.isNew);
  return (
    <>
      {needsRoom > 0 && (
        <Field
          label="Room of the places that name none"
          list={offered.rooms}
          help={`${formatCount(needsRoom, 'place')} of your file, such as ${made[0]?.path.join(' / ')}, stand in it.`}
          {...fieldOf(own, 'room')}
        />
      )}
      <p>
        {stock.places.length > 0 &&
          `${formatNumber(stock.places.length - made.length)} of ${formatCount(stock.places.length, 'place')} are there, ${formatNumber(made.length)} are made. `}
        {stock.lines.length > 0 &&
          `${formatNumber(stock.lines.length - newLines.length)} of ${formatCount(stock.lines.length, 'line')} are there, ${formatNumber(newLines.length)} are made${
            newLines.length > 0
              ? `: ${newLines
                  .slice(0, 12)
                  .map((line) => line.name)
                  .join(', ')}${newLines.length > 12 ? ' ...' : ''}`
              : ''
          }.`}
      </p>
    </>
  );
}

/** What the cultures need of species, enclosures, places and lines: found, or to be made. */
export function StockNeeded(props: PreviewProps) {
  const { stock } = props;
  if (stock.species.length + stock.enclosures.length + stock.places.length === 0) return null;
  const form = formFor(props.form, 'stock', valuesOf(props));
  return (
    <section id="stock" aria-labelledby="stock-title">
      <h2 id="stock-title">What the cultures need</h2>
      <p>
        What is not there yet is written down with them. Say where something of yours is meant. Two new names
        for one species become two species: give them one name in your file and bring it again.
      </p>
      <SayForm
        furniture={props.furniture}
        action={`/records/drafts/${props.uploadKey}/stock`}
        version={props.version}
        form={form}
        keyPart="stock"
        button="Take it so"
      >
        {stock.species.length > 0 && (
          <Species plans={stock.species} offered={props.offered.species} form={form} />
        )}
        {stock.enclosures.length > 0 && <Enclosures {...props} own={form} />}
        <PlacesAndLines {...props} own={form} />
      </SayForm>
    </section>
  );
}
