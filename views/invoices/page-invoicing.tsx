import { firstInvoicing as first } from '../../shared/invoices/first-invoicing.ts';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  CheckField,
  checkOf,
  ErrorSummary,
  Field,
  Form,
  type FormState,
  fieldOf,
  TextAreaField,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { type RateRow, Rates } from './rates.tsx';
import { lawDecides } from './say.ts';

export type InvoicingPageProps = {
  furniture: Furniture;
  form: FormState;
  wayForm: FormState;
  hasInvoices: boolean;
  rates: readonly RateRow[];
  ways: readonly { id: number; name: string; retiredAt: number | null }[];
  today: string;
};

const address = '/settings/invoices';

const labels = {
  prefix: 'Before the number',
  firstNumber: 'First number',
  taxNumber: 'Your tax number',
  termDays: 'To be paid within',
  payWords: 'How to pay',
  exempt: 'No tax is charged',
  exemptEn: 'Sentence in English',
  exemptDe: 'Sentence in German',
  exemptEs: 'Sentence in Spanish',
  keepYears: 'Invoices are kept for',
  inactiveYears: 'Customers without orders for',
};

function Numbers({ form, hasInvoices }: Pick<InvoicingPageProps, 'form' | 'hasInvoices'>) {
  return (
    <>
      <h2>Numbers and words</h2>
      <Field
        label={labels.prefix}
        size="short"
        maxLength={20}
        help="Such as RE- for RE-0001. Figures are counted on without a gap, also over the years."
        {...fieldOf(form, 'prefix')}
      />
      <Field
        label={labels.firstNumber}
        inputMode="numeric"
        size="short"
        required
        readOnly={hasInvoices}
        help={
          hasInvoices
            ? 'Counting has begun, so this means nothing any more.'
            : 'Where counting begins: after the last number that you gave elsewhere.'
        }
        {...fieldOf(form, 'firstNumber')}
      />
      <Field
        label={labels.taxNumber}
        maxLength={60}
        help="As it is to stand on invoices."
        {...fieldOf(form, 'taxNumber')}
      />
      <Field
        label={labels.termDays}
        inputMode="numeric"
        size="short"
        unit="days"
        required
        {...fieldOf(form, 'termDays')}
      />
      <TextAreaField
        label={labels.payWords}
        rows={3}
        maxLength={600}
        help="Stands at the end of every invoice: your account, for instance."
        {...fieldOf(form, 'payWords')}
      />
    </>
  );
}

function Exemption({ form }: Pick<InvoicingPageProps, 'form'>) {
  return (
    <>
      <h2>Small businesses</h2>
      <CheckField
        label="No tax is charged"
        help="For a business that its law frees from charging tax. The taxes above then count for nothing, and invoices carry your sentence."
        {...checkOf(form, 'exempt')}
      />
      <Field label={labels.exemptEn} size="long" maxLength={300} {...fieldOf(form, 'exemptEn')} />
      <Field label={labels.exemptDe} size="long" maxLength={300} {...fieldOf(form, 'exemptDe')} />
      <Field
        label={labels.exemptEs}
        size="long"
        maxLength={300}
        help="A customer whose language is left empty reads the first that is there."
        {...fieldOf(form, 'exemptEs')}
      />
    </>
  );
}

function Keeping({ form }: Pick<InvoicingPageProps, 'form'>) {
  return (
    <>
      <h2>How long</h2>
      <Field
        label={labels.keepYears}
        inputMode="numeric"
        size="short"
        unit="years"
        required
        help={`After the end of the year they were written in. Of a customer who is erased, name and address stay on their invoices until then. Ours: ${first.keepYears}, a guess and no advice.`}
        {...fieldOf(form, 'keepYears')}
      />
      <Field
        label={labels.inactiveYears}
        inputMode="numeric"
        size="short"
        unit="years"
        required
        help="After that they are listed for erasing. Nobody is erased without you."
        {...fieldOf(form, 'inactiveYears')}
      />
    </>
  );
}

function Ways({ furniture, ways, wayForm }: InvoicingPageProps) {
  return (
    <section id="ways">
      <h2>Ways of paying</h2>
      <ul class="plain-list way-list">
        {ways.map(({ id, name, retiredAt }) => (
          <li key={id}>
            <span>
              {name}
              {retiredAt !== null && <span class="quiet"> not offered</span>}
            </span>
            <PostButton
              furniture={furniture}
              action={`${address}/ways/${id}/${retiredAt === null ? 'retire' : 'bring-back'}`}
              label={retiredAt === null ? 'Stop offering' : 'Offer again'}
              ariaLabel={`${retiredAt === null ? 'Stop offering' : 'Offer again'}: ${name}`}
              kind="quiet"
              keyPart={`way-${id}`}
            />
          </li>
        ))}
      </ul>
      <Form furniture={furniture} action={`${address}/ways`} keyPart="way">
        <Field label="Another way" maxLength={60} required {...fieldOf(wayForm, 'name')} />
        <Actions>
          <Button>Add it</Button>
        </Actions>
      </Form>
    </section>
  );
}

/** How invoices are numbered and what they say, taxes, ways of paying, and how long things are kept. */
export function InvoicingPage(props: InvoicingPageProps) {
  const { furniture, form, rates, today } = props;
  return (
    <Shell
      furniture={furniture}
      title="Invoices and taxes"
      purpose={lawDecides}
      breadcrumbs={[{ href: '/settings', label: 'Settings' }]}
      actions={
        <LinkButton href={`${address}/taxes/new`} kind="main">
          Add a tax
        </LinkButton>
      }
    >
      <h2>Taxes</h2>
      <Rates rates={rates} today={today} locale={furniture.locale} isExempt={form.values.exempt === 'yes'} />
      <Form furniture={furniture} action={address}>
        <FilledFrom form={form} words={labels} />
        <ErrorSummary errors={form.errors} labels={labels} />
        <Numbers {...props} />
        <Exemption form={form} />
        <Keeping form={form} />
        <Actions>
          <Button kind="main">Save</Button>
          <LinkButton href="/settings">Leave</LinkButton>
        </Actions>
      </Form>
      <Ways {...props} />
    </Shell>
  );
}
