import { Actions, Button } from '../layout/button.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { PasswordFields, passwordLabels } from './part-password-fields.tsx';

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
        <ErrorSummary
          errors={form.errors}
          labels={{ name: 'Your name', signInName: 'Sign-in name', ...passwordLabels }}
        />
        <input type="hidden" name="token" value={token} />
        <Field
          label="Your name"
          autocomplete="name"
          required
          maxLength={120}
          help="As the others see it."
          {...fieldOf(form, 'name')}
        />
        <Field
          label="Sign-in name"
          autocomplete="username"
          required
          maxLength={254}
          help="A short name or your e-mail address; capitals do not matter."
          {...fieldOf(form, 'signInName')}
        />
        <PasswordFields form={form} />
        <Actions>
          <Button kind="main">Join</Button>
        </Actions>
      </Form>
    </Shell>
  );
}
