import { h } from 'preact';
import { methodChosen } from '../../shared/counts/page-form.ts';
import { CheckPage } from '../../views/checks/page-check.tsx';
import { CountPage } from '../../views/counts/page-count.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { contactChoices } from '../traces/queries-typed.ts';

/**
 * The forms of the round for any culture, made by the very views of the real ones. A phone keeps them and puts a
 * culture's code, name, place and cautions where these words stand, so it needs not hundreds of pages.
 */
const blank = {
  code: 'BLANK-CODE',
  scientificName: 'BLANK-NAME',
  place: 'BLANK-PLACE',
  cautions: 'BLANK-CAUTIONS',
};

/** No culture has the number 0, so all are offered; what was worked at just before would be long out of date. */
const contactsOf = (call: StaffCall) => ({ ...contactChoices(call, { id: 0 }), before: null });

const formOf = (call: StaffCall) => ({ values: { onDay: call.today }, errors: {} });

export function showBlankCheck(call: StaffCall): Answer {
  const { furniture, today } = call;
  return page(
    h(CheckPage, {
      ...blank,
      furniture,
      today,
      part: null,
      inQuarantine: call.query.quarantine === 'yes',
      form: formOf(call),
      last: [],
      open: (call.query.open ?? '').split('.'),
      contacts: contactsOf(call),
    }),
  );
}

export function showBlankCount(call: StaffCall): Answer {
  const { furniture, today } = call;
  return page(
    h(CountPage, {
      ...blank,
      furniture,
      today,
      method: methodChosen.parse(call.query.method),
      from: 'round',
      form: formOf(call),
      known: 'nothing can be said without a signal',
      shows: null,
      objections: [],
      contacts: contactsOf(call),
    }),
  );
}
