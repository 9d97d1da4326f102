import { h } from 'preact';
import { LinesPage } from '../../views/lines/page-lines.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { namesOfSpecies } from '../species/queries.ts';
import { listLines } from './queries.ts';
import { trendsOfLines } from './trends.ts';

export function showLines(call: StaffCall): Answer {
  const species = namesOfSpecies(call.db);
  const wanted = call.query.species ? species.find((s) => String(s.id) === call.query.species) : null;
  if (wanted === undefined) throw notFound('species');
  const rows = listLines(call.db, wanted?.id ?? null);
  const ids = rows.map(({ id }) => id);
  const trends = trendsOfLines(call.db, ids, call.today);
  return page(
    h(LinesPage, {
      furniture: call.furniture,
      rows: rows.map((row) => ({
        ...row,
        trend: trends.get(row.id)?.points ?? [],
        parts: trends.get(row.id)?.parts ?? [],
      })),
      species,
      chosen: wanted,
      mayEdit: call.who.role === 'owner',
    }),
  );
}
