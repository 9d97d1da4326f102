import { Actions, Button } from '../layout/button.tsx';
import { ErrorSummary, Field, FieldSet, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { BusinessBasics, businessLabels, type Usual } from '../settings/part-business-fields.tsx';
import { PasswordFields, passwordLabels } from './part-password-fields.tsx';

export type SetUpPageProps = { furniture: Furniture; form: FormState; token: string; usual: Usual | null };

export function SetUpPage({ furniture, form, token, usual }: SetUpPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="Set up"
      purpose="This page opens once: it makes the owner's account and says whose business this is. All of it can be changed later."
    >
      <Form furniture={furniture} action="/set-up">
        <ErrorSummary
          errors={form.errors}
          labels={{ name: 'Your name', signInName: 'Sign-in name', ...passwordLabels, ...businessLabels }}
        />
        <input type="hidden" name="token" value={token} />
        <FieldSet legend="You, the owner">
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
