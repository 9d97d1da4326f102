import { h } from 'preact';
import { ReadsPage } from '../../views/people/page-reads.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { listReads } from './queries-reads.ts';
import { fileOfRecord, pageOfRecord } from './record.ts';

export const showReads = (call: StaffCall): Answer =>
  page(h(ReadsPage, pageOfRecord(call, '/settings/reads', listReads)));

export const downloadReads = (call: StaffCall): Answer =>
  fileOfRecord(call, 'reads', listReads, {
    number: ({ id }) => id,
    'first at': ({ at }) => new Date(at).toISOString(),
    who: ({ who }) => who,
    subject: ({ subject }) => subject,
    way: ({ way }) => way,
  });
