import { Actions, Button } from '../layout/button.tsx';
import { ErrorSummary, Form, type FormState } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { AccountFields, accountLabels } from './part-account-fields.tsx';

export type JoinPageProps = {
  furniture: Furniture;
  form: FormState;
  token: string;
  role: 'owner' | 'helper';
};

export function JoinPage({ furniture, form, token, role }: JoinPageProps) {
  return (
    <Shell
      furniture={furniture}
      title={`Join ${furniture.businessName}`}
      purpose={`You are invited as ${role === 'owner' ? 'an owner' : 'a helper'}. Choose how you will sign in.`}
    >
      <Form furniture={furniture} action="/invitation">
        <ErrorSummary errors={form.errors} labels={accountLabels} />
        <input type="hidden" name="token" value={token} />
        <AccountFields form={form} />
        <Actions>
          <Button kind="main">Join</Button>
        </Actions>
      </Form>
    </Shell>
  );
}
