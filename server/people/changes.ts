import { h } from 'preact';
import { ChainPage } from '../../views/people/page-chain.tsx';
import { ChangesPage } from '../../views/people/page-changes.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { checkChain, listChanges } from './queries-changes.ts';
import { fileOfRecord, pageOfRecord } from './record.ts';

export const showChanges = (call: StaffCall): Answer =>
  page(h(ChangesPage, pageOfRecord(call, '/settings/changes', listChanges)));

export const downloadChanges = (call: StaffCall): Answer =>
  fileOfRecord(call, 'changes', listChanges, {
    number: ({ id }) => id,
    at: ({ at }) => new Date(at).toISOString(),
    who: ({ who }) => who,
    action: ({ action }) => action,
    subject: ({ subject }) => subject,
    before: ({ before }) => before,
    after: ({ after }) => after,
    link: ({ chain }) => chain,
  });

export const checkChanges = (call: StaffCall): Answer =>
  page(h(ChainPage, { furniture: call.furniture, report: checkChain(call.db) }));
