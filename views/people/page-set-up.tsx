import { Actions, Button } from '../layout/button.tsx';
import { ErrorSummary, FieldSet, Form, type FormState } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { BusinessBasics, businessLabels, type Usual } from '../settings/part-business-fields.tsx';
import { AccountFields, accountLabels } from './part-account-fields.tsx';

export type SetUpPageProps = { furniture: Furniture; form: FormState; token: string; usual: Usual | null };

export function SetUpPage({ furniture, form, token, usual }: SetUpPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="Set up"
      purpose="This page opens once: it makes the owner's account and says whose business this is. All of it can be changed later."
    >
      <Form furniture={furniture} action="/set-up">
        <ErrorSummary errors={form.errors} labels={{ ...accountLabels, ...businessLabels }} />
        <input type="hidden" name="token" value={token} />
        <FieldSet legend="You, the owner">
          <AccountFields form={form} />
        </FieldSet>
        <FieldSet legend="Your business">
          <BusinessBasics form={form} usual={usual} />
        </FieldSet>
        <Actions>
          <Button kind="main">Set up and sign in</Button>
        </Actions>
      </Form>
    </Shell>
  );
}
