import { Actions, Button } from '../layout/button.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type CodePageProps = { furniture: Furniture; form: FormState; token: string; next: string | null };

/** The second step of signing in. */
export function CodePage({ furniture, form, token, next }: CodePageProps) {
  return (
    <Shell
      furniture={furniture}
      title="Your code"
      purpose="The password was right. Now the code that the app on your phone shows."
    >
      <Form furniture={furniture} action="/sign-in/code">
        <ErrorSummary errors={form.errors} title="Not signed in yet." labels={{ code: 'Code' }} />
        <input type="hidden" name="token" value={token} />
        {next && <input type="hidden" name="next" value={next} />}
        <Field
          label="Code"
          size="normal"
          autocomplete="one-time-code"
          required
          maxLength={100}
          help="Six digits. Without your phone: one of your recovery codes."
          {...fieldOf(form, 'code')}
        />
        <Actions>
          <Button kind="main">Sign in</Button>
        </Actions>
      </Form>
      <p class="quiet">
        Phone and recovery codes both gone? The owner can take the code away from your account. Owners do it
        on the machine itself, with <code>npm run without-code</code>.
      </p>
      <p>
        <a href="/sign-in">Start again</a>
      </p>
    </Shell>
  );
}
