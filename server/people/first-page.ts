import { type Answer, redirect } from '../plumbing/answers.ts';
import type { Call } from '../plumbing/call.ts';

/** Where a person starts; nobody is sent to sign in. */
const firstPath = '/round';

export function showFirstPage(call: Call): Answer {
  return redirect(call.who ? firstPath : '/sign-in');
}
