import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ErrorSummary, Form, type FormState, fieldOf, type Option, SelectField } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type OriginPageProps = {
  furniture: Furniture;
  form: FormState;
  country: string;
  regions: readonly Option[];
};

/** The state or region parcels start in: some rules ask for it. */
export function OriginPage({ furniture, form, country, regions }: OriginPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="Where parcels start"
      purpose={`Your business is in ${country}. Some movement rules ask for the state or region too.`}
      breadcrumbs={[{ href: '/movement', label: 'Movement rules' }]}
    >
      <Form furniture={furniture} action="/movement/origin">
        <FilledFrom form={form} words={{ region: 'State or region' }} choices={{ region: regions }} />
        <ErrorSummary errors={form.errors} />
        <SelectField
          label="State or region"
          {...fieldOf(form, 'region')}
          empty="Not said"
          options={regions}
          help={regions.length === 0 ? 'No regions of this country are known here.' : undefined}
        />
        <Actions>
          <Button kind="main">Save</Button>
          <LinkButton href="/movement">Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
