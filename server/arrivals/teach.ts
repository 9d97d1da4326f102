import { h } from 'preact';
import { learnLimit, type Side } from '../../shared/arrivals/limit.ts';
import { ArrivalsPage, type SpeciesLesson } from '../../views/arrivals/page-arrivals.tsx';
import { exactLimit } from '../../views/arrivals/say.ts';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict, notFound, Refusal } from '../plumbing/errors.ts';
import { readSpecies, type Species, setSafeLimit } from '../species/queries.ts';
import { type Lesson, lessons, toldOf } from './queries-lessons.ts';

const sideOf = (given: unknown): Side => (given === 'high' ? 'high' : 'low');
const asArrivals = (rows: readonly Lesson[], side: Side) =>
  rows.map(({ sent, dead, lowestC, highestC }) => ({
    tempC: side === 'low' ? lowestC : highestC,
    sent,
    dead,
  }));

const learn = (rows: readonly Lesson[], species: Species, side: Side) => {
  const arrivals = asArrivals(rows, side);
  return { side, arrivals, ...learnLimit(arrivals, side, species) };
};

/** One species in full: the one asked for, else the one with the most dead. */
function chosen(call: StaffCall, all: readonly Lesson[]): SpeciesLesson | null {
  const dead = new Map<number, number>();
  for (const row of all) dead.set(row.speciesId, (dead.get(row.speciesId) ?? 0) + row.dead);
  const [most] = [...dead].sort((a, b) => b[1] - a[1]);
  const asked = Number(call.query.species ?? '');
  const id = dead.has(asked) ? asked : most?.[0];
  const species = id === undefined ? undefined : readSpecies(call.db, id);
  if (!species) return null;
  const rows = all.filter(({ speciesId }) => speciesId === species.id);
  const { scientificName, safeLowC, safeHighC } = species;
  const learnt = { low: learn(rows, species, 'low'), high: learn(rows, species, 'high') };
  return { id: species.id, scientificName, safeLowC, safeHighC, ...learnt };
}

export function showLessons(call: StaffCall): Answer {
  const all = lessons(call.db);
  const { furniture, business } = call;
  const told = toldOf(call.db);
  return page(
    h(ArrivalsPage, { furniture, rows: all, told, chosen: chosen(call, all), units: business.units }),
  );
}

function speciesIn(call: StaffCall): Species {
  const species = readSpecies(call.db, Number(call.body.species ?? 0) || 0);
  if (!species) throw notFound('species');
  return species;
}

const column = { low: 'safeLowC', high: 'safeHighC' } as const;
const pageOf = ({ id }: Species) => `/parcels/arrivals?species=${id}`;

/** The limit that arrivals teach becomes the species' own; what it is, is worked out here and not taken from the form. */
export function takeLimit(call: StaffCall): Answer {
  const species = speciesIn(call);
  const side = sideOf(call.body.side);
  const rows = lessons(call.db).filter(({ speciesId }) => speciesId === species.id);
  const { proposal } = learn(rows, species, side);
  if (!proposal) throw conflict('The arrivals name no limit any more. Look at them again.');
  const { limitC, tempC, low, high } = proposal;
  const was = species[column[side]];
  const at = call.clock.now();
  call.once((tx) => {
    setSafeLimit(tx, species.id, side, limitC);
    note(tx, {
      at,
      personId: call.who.id,
      action: 'took a limit from arrivals',
      subject: `species ${species.id}`,
      before: { [column[side]]: was },
      after: { [column[side]]: limitC, tempC, low, high, parcels: rows.length },
    });
    return true;
  });
  const { units, locale } = call.business;
  return redirect(pageOf(species), {
    text: `${species.scientificName} is now safe ${side === 'low' ? 'from' : 'up to'} ${exactLimit(limitC, units, locale)}.`,
    tone: 'plain',
    undo: {
      action: '/parcels/arrivals/limit/back',
      label: 'Undo',
      fields: { species: species.id, side, was, is: limitC },
    },
  });
}

/** Puts a limit back as it was, if nobody has changed it since. */
export function takeLimitBack(call: StaffCall): Answer {
  const species = speciesIn(call);
  const side = sideOf(call.body.side);
  const [was, is] = [Number(call.body.was), Number(call.body.is)];
  const { lethalLowC, idealLowC, idealHighC, lethalHighC } = species;
  const fits =
    side === 'low' ? was >= lethalLowC && was <= idealLowC : was >= idealHighC && was <= lethalHighC;
  if (!fits) throw new Refusal(422, 'Not put back', 'This limit does not fit between the others any more.');
  if (species[column[side]] !== is) throw conflict('The limit was changed meanwhile. See the species’ page.');
  const at = call.clock.now();
  call.once((tx) => {
    setSafeLimit(tx, species.id, side, was);
    const [before, after] = [{ [column[side]]: is }, { [column[side]]: was }];
    note(tx, {
      at,
      personId: call.who.id,
      action: 'put a limit back',
      subject: `species ${species.id}`,
      before,
      after,
    });
    return true;
  });
  return redirect(pageOf(species), 'The limit is as it was.');
}
