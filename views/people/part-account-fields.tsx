import { Field, type FormState, fieldOf } from '../layout/form.tsx';
import { PasswordFields, passwordLabels } from './part-password-fields.tsx';

export const accountLabels = { name: 'Your name', signInName: 'Sign-in name', ...passwordLabels };

/** Who somebody new is, and how they will sign in. */
export function AccountFields({ form }: { form: FormState }) {
  return (
    <>
      <Field
        label={accountLabels.name}
        autocomplete="name"
        required
        maxLength={120}
        help="As the others see it."
        {...fieldOf(form, 'name')}
      />
      <Field
        label={accountLabels.signInName}
        autocomplete="username"
        required
        maxLength={254}
        help="A short name or your e-mail address; capitals do not matter."
        {...fieldOf(form, 'signInName')}
      />
      <PasswordFields form={form} />
    </>
  );
}
