import { z } from 'zod';
import { neededLine } from '../text.ts';
import { tidySignInName } from './sign-in-name.ts';

/** Passwords are never trimmed or tidied; whether one will do is said by password.ts. */
const password = (missing: string) => z.string({ error: missing }).max(1_000, 'Use at most 256 characters.');

const newPassword = password('Choose a password.');
const again = password('Type the password once more.');

const personName = neededLine(120, 'Write the name that the others see.');

const signInName = z
  .string({ error: 'Choose a name to sign in with.' })
  .transform(tidySignInName)
  .pipe(
    z
      .string()
      .min(2, 'Use at least 2 characters.')
      .max(254, 'Use at most 254 characters.')
      .regex(/^[\p{L}\p{M}\p{N}._@+-]+$/u, 'Use letters, digits and . _ - + @ only, without spaces.'),
  );

const role = z.enum(['owner', 'helper'], { error: 'Choose what this person may do.' });

const token = z.string().max(200).default('');

/** Signing in; the name is tidied but not judged: a wrong one is simply nobody's. */
export const signInForm = z.object({
  signInName: z.string({ error: 'Type your sign-in name.' }).max(1_000).transform(tidySignInName),
  password: password('Type your password.'),
  next: z.string().max(2_000).optional(),
});

/** What an owner tells about themselves at the set-up. */
export const ownerForm = z.object({ token, name: personName, signInName, password: newPassword, again });

/** What somebody who was invited fills in. */
export const joinForm = z.object({ token, name: personName, signInName, password: newPassword, again });

export const newPasswordForm = z.object({ token, password: newPassword, again });

const code = z.string({ error: 'Type the code.' }).max(100, 'A code is shorter than this.');

/** The code of the phone's app, or one for a lost phone. */
export const codeForm = z.object({ code });

export const confirmCodeForm = z.object({ code, password: password('Type the password you have now.') });

export const whoMustForm = z.object({
  secondFactor: z.enum(['nobody', 'owners', 'everybody'], { error: 'Choose one.' }),
});

export const inviteForm = z.object({ name: personName, role });

export const roleForm = z.object({ role });

export const accountForm = z.object({
  name: personName,
  scheme: z.enum(['system', 'light', 'dark'], { error: 'Choose one.' }),
});

export const changePasswordForm = z.object({
  current: password('Type the password you have now.'),
  password: newPassword,
  again,
});
