import { passwordFault } from '../../shared/people/password.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { isCommonPassword } from './common-passwords.ts';

type Chosen = { password: string; again: string };

/** What is wrong with a new password, by field; `names` are the person's and the business's. */
export function passwordErrors({ password, again }: Chosen, names: string[]): Record<string, string> {
  const fault = passwordFault(password, { names: [...names, 'broodbench'], isCommon: isCommonPassword });
  if (fault) return { password: fault };
  if (password.normalize('NFKC') !== again.normalize('NFKC')) {
    return { again: 'This is not the same as above. Type both once more.' };
  }
  return {};
}

const secretFields = ['current', 'password', 'again', 'token'];

/**
 * A form that goes back with its passwords left out: they are not sent over the line again. Says so at the field,
 * since an emptied field would be the only thing that was lost.
 */
export function withoutSecrets(form: FormState): FormState {
  const values = { ...form.values };
  const errors = { ...form.errors };
  for (const name of secretFields) delete values[name];
  if (form.values.password && !errors.password && !errors.again) {
    errors.password = 'Please type the password again; it is never sent back to the page.';
  }
  return { ...form, values, errors };
}
