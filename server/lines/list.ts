import { h } from 'preact';
import { LinesPage } from '../../views/lines/page-lines.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { namesOfSpecies } from '../species/queries.ts';
import { listLines } from './queries.ts';

export function showLines(call: StaffCall): Answer {
  const species = namesOfSpecies(call.db);
  const wanted = call.query.species ? species.find((s) => String(s.id) === call.query.species) : null;
  if (wanted === undefined) throw notFound('species');
  return page(
    h(LinesPage, {
      furniture: call.furniture,
      rows: listLines(call.db, wanted?.id ?? null),
      species,
      chosen: wanted,
      mayEdit: call.who.role === 'owner',
    }),
  );
}
