import { Actions, Button } from '../layout/button.tsx';
import { ErrorSummary, Form, type FormState } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { PasswordFields, passwordLabels } from './part-password-fields.tsx';

export type NewPasswordPageProps = {
  furniture: Furniture;
  form: FormState;
  token: string;
  signInName: string;
};

export function NewPasswordPage({ furniture, form, token, signInName }: NewPasswordPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="Choose a new password"
      purpose={<>For the sign-in name {signInName}.</>}
    >
      <Form furniture={furniture} action="/new-password">
        <ErrorSummary errors={form.errors} labels={passwordLabels} />
        <input type="hidden" name="token" value={token} />
        {/* Lets the browser's password keeper know whose password this is. */}
        <input type="text" name="signInName" value={signInName} autoComplete="username" readOnly hidden />
        <PasswordFields form={form} label="New password" />
        <Actions>
          <Button kind="main">Save and sign in</Button>
        </Actions>
      </Form>
    </Shell>
  );
}
