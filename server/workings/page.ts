import { h } from 'preact';
import { WorkingPage } from '../../views/workings/page-working.tsx';
import { WorkingsPage } from '../../views/workings/page-workings.tsx';
import { isWorking } from '../../views/workings/registry.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';

export const showWorkings = ({ furniture }: StaffCall): Answer => page(h(WorkingsPage, { furniture }));

export function showWorking({ furniture, params }: StaffCall): Answer {
  const { name = '' } = params;
  if (!isWorking(name)) throw notFound();
  return page(h(WorkingPage, { furniture, name }));
}
