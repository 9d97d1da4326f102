import { rateFieldWords } from '../../shared/invoices/form.ts';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  CheckField,
  ChoiceField,
  checkOf,
  ErrorSummary,
  Field,
  Form,
  type FormState,
  fieldOf,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { lawDecides } from './say.ts';

export type RatePageProps = {
  furniture: Furniture;
  form: FormState;
  /** Null for a new one. */
  rate: { id: number; name: string } | null;
};

const modes = [
  { value: 'included', label: 'hold it', help: 'customers pay the price they read' },
  { value: 'added', label: 'are without it', help: 'it comes on top' },
];

function Reach({ form }: { form: FormState }) {
  return (
    <>
      <CheckField label={rateFieldWords.onGoods} {...checkOf(form, 'onGoods')} />
      <CheckField label={rateFieldWords.onCarriage} {...checkOf(form, 'onCarriage')} />
      <Field label={rateFieldWords.fromOn} type="date" size="short" required {...fieldOf(form, 'fromOn')} />
      <Field
        label={rateFieldWords.untilOn}
        type="date"
        size="short"
        optional
        help="Left empty, it goes on."
        {...fieldOf(form, 'untilOn')}
      />
    </>
  );
}

/** One tax at one rate. */
export function RatePage({ furniture, form, rate }: RatePageProps) {
  const address = '/settings/invoices/taxes';
  return (
    <Shell
      furniture={furniture}
      title={rate ? `Edit ${rate.name}` : 'New tax'}
      purpose="When a rate changes, let this one end and add another that begins the day after."
      breadcrumbs={[
        { href: '/settings', label: 'Settings' },
        { href: '/settings/invoices', label: 'Invoices and taxes' },
      ]}
    >
      <Form furniture={furniture} action={rate ? `${address}/${rate.id}/edit` : address}>
        {rate && <FilledFrom form={form} words={rateFieldWords} choices={{ mode: modes }} />}
        <ErrorSummary errors={form.errors} labels={rateFieldWords} />
        <Field
          label={rateFieldWords.name}
          maxLength={40}
          required
          help="As invoices call it, such as VAT."
          {...fieldOf(form, 'name')}
        />
        <Field
          label={rateFieldWords.rate}
          inputMode="decimal"
          size="short"
          unit="%"
          required
          help="Up to three figures after the point."
          {...fieldOf(form, 'rate')}
        />
        <ChoiceField label={rateFieldWords.mode} options={modes} required {...fieldOf(form, 'mode')} />
        <Reach form={form} />
        <Actions>
          <Button kind="main">Save</Button>
          <LinkButton href="/settings/invoices">Leave</LinkButton>
        </Actions>
      </Form>
      {rate && (
        <PostButton
          furniture={furniture}
          action={`${address}/${rate.id}/retire`}
          label="Take this tax out"
          kind="quiet"
          keyPart="retire"
        />
      )}
      <p class="quiet">{lawDecides}</p>
    </Shell>
  );
}
