import { Actions, Button } from '../layout/button.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type SignInPageProps = { furniture: Furniture; form: FormState; next: string | null };

export function SignInPage({ furniture, form, next }: SignInPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="Sign in"
      purpose="No account yet, or the password forgotten? The owner can make you a link for either."
    >
      <Form furniture={furniture} action="/sign-in">
        <ErrorSummary errors={form.errors} title="Not signed in." />
        {next && <input type="hidden" name="next" value={next} />}
        <Field
          label="Sign-in name"
          autocomplete="username"
          required
          maxLength={254}
          {...fieldOf(form, 'signInName')}
        />
        <Field
          label="Password"
          type="password"
          autocomplete="current-password"
          required
          maxLength={1000}
          {...fieldOf(form, 'password')}
          value={null}
        />
        <Actions>
          <Button kind="main">Sign in</Button>
        </Actions>
      </Form>
    </Shell>
  );
}
