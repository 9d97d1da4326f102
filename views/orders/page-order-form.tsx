import { rowField } from '../../shared/orders/form.ts';
import { makeUpWords } from '../../shared/orders/make-up.ts';
import { type Language, languageNames, languages } from '../../shared/settings/languages.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  CheckField,
  checkOf,
  ErrorSummary,
  Field,
  FieldSet,
  Form,
  type FormState,
  fieldOf,
  SelectField,
  TextAreaField,
} from '../layout/form.tsx';
import { formatMoney } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type SpeciesChoice = {
  id: number;
  scientificName: string;
  commonName: string;
  groupAdults: number;
  groupJuveniles: number;
  groupExtras: number;
  priceMinor: number;
};

export type OrderFormPageProps = {
  furniture: Furniture;
  form: FormState;
  /** Null while the order is being written down for the first time. */
  order: { number: number } | null;
  customer: { id: number; name: string; place: string; language: Language; changeHref: string };
  species: readonly SpeciesChoice[];
  rows: number;
  currency: string;
  culture: string | null;
};

/** By what both versions of an order are told apart, in words. */
export const toldApart = {
  toldCustomer: 'Customer',
  toldLines: 'Lines',
  toldDispatch: 'Dispatch day',
  toldPostage: 'Postage',
  toldLanguage: 'Language',
  toldNote: 'Note',
};

function labelsFor(rows: number): Record<string, string> {
  const labels: Record<string, string> = {
    customer: 'Customer',
    dispatchOn: 'Dispatch day',
    postage: 'Postage',
    language: 'Language',
    note: 'Note',
  };
  for (let row = 0; row < rows; row++) {
    labels[rowField('species', row)] = `Species, line ${row + 1}`;
    labels[rowField('groups', row)] = `Groups, line ${row + 1}`;
    labels[rowField('price', row)] = `Price, line ${row + 1}`;
    labels[rowField('separateLines', row)] = `Unrelated starts, line ${row + 1}`;
  }
  return labels;
}

/** What a species is offered as: its name, what a group is made of, what it costs. */
function optionFor(species: SpeciesChoice, currency: string, locale?: string) {
  const name = species.commonName
    ? `${species.scientificName}, ${species.commonName}`
    : species.scientificName;
  const price = species.priceMinor === 0 ? 'no price yet' : formatMoney(species.priceMinor, currency, locale);
  return { value: String(species.id), label: `${name}: ${makeUpWords(species)}, ${price}` };
}

type RowProps = Pick<OrderFormPageProps, 'form' | 'species' | 'currency'> & { row: number; locale?: string };

function Row({ form, row, species, currency, locale }: RowProps) {
  const line = fieldOf(form, rowField('line', row)).value;
  return (
    <div class="order-row">
      {line != null && line !== '' && <input type="hidden" name={rowField('line', row)} value={line} />}
      <SelectField
        label={`Species, line ${row + 1}`}
        {...fieldOf(form, rowField('species', row))}
        empty={row === 0 ? 'Choose a species' : 'None'}
        options={species.map((one) => optionFor(one, currency, locale))}
      />
      <Field
        label="Groups"
        {...fieldOf(form, rowField('groups', row))}
        type="number"
        inputMode="numeric"
        size="short"
      />
      <Field
        label="Price of a group"
        {...fieldOf(form, rowField('price', row))}
        type="number"
        unit={currency}
        size="short"
      />
      <CheckField
        label={
          <>
            Unrelated starts <span class="quiet">each group from a different line of cultures</span>
          </>
        }
        class="order-row-tick"
        {...checkOf(form, rowField('separateLines', row))}
      />
    </div>
  );
}

function Lines({ form, rows, species, currency, furniture }: OrderFormPageProps) {
  return (
    <FieldSet
      legend="What they get"
      help="A price that is left empty is the species' own. Empty a line to take it off."
    >
      {Array.from({ length: rows }, (_, row) => (
        <Row
          key={row}
          row={row}
          form={form}
          species={species}
          currency={currency}
          locale={furniture.locale}
        />
      ))}
      <Button kind="quiet" name="more" value="yes">
        Room for more lines
      </Button>
    </FieldSet>
  );
}

function Sending({ form, currency, customer }: OrderFormPageProps) {
  return (
    <FieldSet legend="Sending">
      <div class="field-row">
        <Field
          label="Dispatch day"
          {...fieldOf(form, 'dispatchOn')}
          type="date"
          optional
          help="The day the box leaves; it can be set later."
        />
        <Field
          label="Postage"
          {...fieldOf(form, 'postage')}
          type="number"
          unit={currency}
          size="short"
          optional
        />
      </div>
      <SelectField
        label="Language"
        {...fieldOf(form, 'language')}
        empty={`The customer's own: ${languageNames[customer.language]}`}
        options={languages.map((value) => ({ value, label: languageNames[value] }))}
        help="Of the care sheets, mails and the customer's page."
      />
      <TextAreaField
        label="Note"
        {...fieldOf(form, 'note')}
        maxLength={2000}
        optional
        help="For whoever packs; it stands on the packing sheet."
      />
    </FieldSet>
  );
}

function Whom({ customer }: Pick<OrderFormPageProps, 'customer'>) {
  return (
    <p class="lead">
      For {customer.name}
      {customer.place && <span class="quiet"> in {customer.place}</span>}{' '}
      <a href={customer.changeHref}>Another customer</a>
    </p>
  );
}

/** Writes an order down, or changes a draft. */
export function OrderFormPage(props: OrderFormPageProps) {
  const { furniture, form, order, customer, rows, culture } = props;
  const back = order ? `/orders/${order.number}` : '/orders';
  const trail = [{ href: '/orders', label: 'Orders' }];
  if (order) trail.push({ href: back, label: `Order ${order.number}` });
  return (
    <Shell
      furniture={furniture}
      title={order ? `Change order ${order.number}` : 'New order'}
      purpose="Who it is for, which groups of which species, and when it leaves. Animals are reserved in the step after this."
      width="wide"
      breadcrumbs={trail}
    >
      <ErrorSummary errors={form.errors} labels={labelsFor(rows)} />
      <Form furniture={furniture} action={back}>
        {/* Enter presses the first button of a form: it must save, not make room for more lines. */}
        <button type="submit" class="visually-hidden" tabIndex={-1} aria-hidden="true">
          Save
        </button>
        {order && <FilledFrom form={form} words={toldApart} />}
        {culture && <input type="hidden" name="culture" value={culture} />}
        <input type="hidden" name="customer" value={customer.id} id="field-customer" />
        <Whom customer={customer} />
        <Lines {...props} />
        <Sending {...props} />
        <Actions>
          <Button kind="main">{order ? 'Save' : 'Write the order down'}</Button>
          <LinkButton href={back} kind="quiet">
            Do not save
          </LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
