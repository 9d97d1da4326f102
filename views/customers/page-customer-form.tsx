import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { CheckField, checkOf, ErrorSummary, Form, type FormState } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { CustomerFields, customerChoices, customerLabels } from './customer-fields.tsx';

export type CustomerFormPageProps = {
  furniture: Furniture;
  form: FormState;
  /** Null while the customer is being written down for the first time. */
  customer: { id: number; name: string } | null;
  /** Goes back to an order that waits for its customer. */
  forOrder?: { culture: string | null };
};

/** Writes a new customer down, or changes one. */
export function CustomerFormPage({ furniture, form, customer, forOrder }: CustomerFormPageProps) {
  const action = customer ? `/customers/${customer.id}` : '/customers';
  return (
    <Shell
      furniture={furniture}
      title={customer ? `Change ${customer.name}` : 'New customer'}
      purpose={`Where the box goes, and in which language and units its papers are.${forOrder ? ' The order comes next.' : ''}`}
      breadcrumbs={[
        { href: '/customers', label: 'Customers' },
        ...(customer ? [{ href: action, label: customer.name }] : []),
      ]}
    >
      <ErrorSummary errors={form.errors} labels={customerLabels} />
      <Form furniture={furniture} action={action}>
        {customer && <FilledFrom form={form} words={customerLabels} choices={customerChoices} />}
        {forOrder && <input type="hidden" name="for" value="order" />}
        {forOrder?.culture && <input type="hidden" name="culture" value={forOrder.culture} />}
        <CustomerFields form={form} />
        {customer && (
          <CheckField
            label="Put away: no longer offered for new orders"
            {...checkOf(form, 'retired')}
            help="Past orders keep their customer."
          />
        )}
        <Actions>
          <Button kind="main">{forOrder ? 'Save and go on to the order' : 'Save'}</Button>
          <LinkButton href={customer ? action : '/customers'} kind="quiet">
            Do not save
          </LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
