import { cultureHref } from '../../views/cultures/page-list.tsx';
import { type Answer, redirect } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { cultureOfLabel } from './queries.ts';

/** Where a scanned label leads: to the check, or for a culture that is no longer kept to what is known of it. */
export function openScanned(call: StaffCall): Answer {
  const culture = cultureOfLabel(call.db, call.params.code ?? '');
  if (!culture) throw notFound('culture');
  return redirect(
    culture.status === 'retired' ? cultureHref(culture.code) : `${cultureHref(culture.code)}/check`,
  );
}
