import { h } from 'preact';
import type { AllocateAnswer } from '../../shared/orders/allocate.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { NoProposalPage, type NoProposalPageProps } from '../../views/orders/page-no-proposal.tsx';
import { ProposePage } from '../../views/orders/page-propose.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { typed, withErrors } from '../plumbing/forms.ts';
import { byOf } from './by.ts';
import { type Asked, draftOf, questionOf, stockFor, wishesIn } from './drafts.ts';
import { fillInThread } from './fill-in-thread.ts';
import { type Answered, proposalOf, type Shown } from './proposal.ts';
import { type LoadedOrder, loadOrder } from './queries.ts';
import { NotReserved, reserve, type Wish } from './reserve.ts';
import { missingGroups } from './steps.ts';
import { nothingEntered, reservedWords, wishesOf } from './wishes.ts';

const unmetOf = ({ unmet }: AllocateAnswer): Answered['unmet'] =>
  new Map(unmet.map(({ id, groups, why }) => [Number(id), { groups, why }]));

/** Asks the solver; where it gives no answer, a page that says so. */
export async function workOut(
  call: StaffCall,
  asked: Asked,
  instead: Pick<NoProposalPageProps, 'title' | 'again' | 'back'>,
): Promise<{ wishes: Wish[]; answered: Answered; answer?: undefined } | { answer: Answer }> {
  const filled = await fillInThread(questionOf(call.db, asked));
  if (filled.answer) {
    const { optimal, gap } = filled.answer;
    const answered = { unmet: unmetOf(filled.answer), verdict: { optimal, gap } };
    return { wishes: wishesIn(filled.answer, asked.stock), answered };
  }
  if (filled.why === 'broken') call.log.error({ err: filled.error }, 'a proposal broke down');
  const { furniture } = call;
  return { answer: page(h(NoProposalPage, { furniture, why: filled.why, ...instead }), 503) };
}

type Entered = Pick<Shown, 'wishes' | 'form' | 'answered'>;

function proposePage(call: StaffCall, loaded: LoadedOrder, entered: Entered) {
  const draft = draftOf(call.db, loaded);
  const shown = { drafts: [draft], today: call.today, ...entered };
  const { lines, ...proposal } = proposalOf(call.db, shown);
  return h(ProposePage, {
    furniture: call.furniture,
    number: draft.number,
    customerName: draft.customerName,
    lines: [...lines.values()],
    verdict: entered.answered?.verdict ?? null,
    ...proposal,
  });
}

export async function proposeForOrder(call: StaffCall): Promise<Answer> {
  const loaded = loadOrder(call.db, numberIn(call, 'number', 'order'));
  const { number, state } = loaded.order;
  const path = `/orders/${number}`;
  if (state !== 'draft')
    return redirect(path, {
      tone: 'needs-you',
      text: `order ${number} is ${state}, so there is nothing to propose.`,
    });
  const drafts = [draftOf(call.db, loaded)];
  if (drafts[0]?.lines.length === 0) return redirect(path, `All animals of order ${number} are reserved.`);
  const asked = { drafts, stock: stockFor(call.db, drafts), priorityOf: () => 1 };
  const found = await workOut(call, asked, {
    title: `Proposal for order ${number}`,
    again: `${path}/propose`,
    back: { href: path, label: `Order ${number}` },
  });
  if (found.answer) return found.answer;
  return page(proposePage(call, loaded, { ...found, form: null }));
}

export function reserveProposal(call: StaffCall): Answer {
  const number = numberIn(call, 'number', 'order');
  const loaded = loadOrder(call.db, number);
  const form = typed(call.body);
  const { wishes, errors } = wishesOf(call.body);
  const again = (shown: FormState) => proposePage(call, loaded, { wishes, form: shown, answered: null });
  const wrong = (more: Record<string, string>) => wrongForm(again(withErrors(form, more)));
  if (Object.keys(errors).length > 0) return wrong(errors);
  if (call.body.look) return page(again(form));
  if (wishes.length === 0) return wrong({ '': nothingEntered });
  try {
    const done = call.once((tx) => {
      const reserved = reserve(tx, number, wishes, null, byOf(call));
      return { ...reserved, missing: missingGroups(tx, loaded.order.id) };
    });
    return redirect(`/orders/${number}`, reservedWords(done, done.missing));
  } catch (error) {
    if (!(error instanceof NotReserved)) throw error;
    return wrong(error.errors);
  }
}
