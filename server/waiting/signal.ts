import { h } from 'preact';
import { WaitingPage } from '../../views/waiting/page-waiting.tsx';
import { keptCultures } from '../checks/queries.ts';
import { lookedForToday } from '../checks/queries-foretold.ts';
import { type Answer, data, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { cautionsBySpecies } from './queries.ts';

/** What this browser keeps is known to it alone: a script fills the page. */
export const showWaiting = ({ furniture }: StaffCall): Answer => page(h(WaitingPage, { furniture }));

/** Who is signed in and a token for the forms that wait; the zone says which day it was when something was written. */
export const showSignal = ({ who, furniture, business, clock }: StaffCall): Answer =>
  data({
    person: { id: who.id, name: who.name },
    csrf: furniture.csrfToken,
    timeZone: business.timeZone,
    at: clock.now(),
  });

/** What a form without a signal has to know of each culture that is kept. */
export function listKeptCultures(call: StaffCall): Answer {
  const { db, today } = call;
  const lookedFor = lookedForToday(call);
  const cautions = cautionsBySpecies(db);
  const cultures = keptCultures(db, today).map(({ code, scientificName, place, status }) => ({
    code,
    name: scientificName,
    place: place ?? '',
    quarantine: status === 'quarantine',
    cautions: cautions.get(scientificName) ?? '',
    open: lookedFor.get(code) ?? [],
  }));
  return data({ cultures });
}
