import { passwordLength } from '../../shared/people/password.ts';
import { Field, type FormState, fieldOf } from '../layout/form.tsx';

/** A new password, twice. */
export function PasswordFields({ form, label = 'Password' }: { form: FormState; label?: string }) {
  return (
    <>
      <Field
        label={label}
        type="password"
        autocomplete="new-password"
        required
        maxLength={1000}
        help={`At least ${passwordLength.least} characters. Four or more words in a row are easy to remember and hard to guess; spaces are welcome.`}
        {...fieldOf(form, 'password')}
        value={null}
      />
      <Field
        label={`${label} once more`}
        type="password"
        autocomplete="new-password"
        required
        maxLength={1000}
        {...fieldOf(form, 'again')}
        value={null}
      />
    </>
  );
}

export const passwordLabels = { password: 'Password', again: 'Password once more' };
