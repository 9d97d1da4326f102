import { h } from 'preact';
import type { Day } from '../../shared/days.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { BlockedPage, type BlockedPageProps } from '../../views/movement/page-blocked.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { Refusal } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type Movement, movementOf, movementOn } from './queries.ts';

type Step = BlockedPageProps['step'];
type OfOrder = { id: number; number: number };

/** A movement rule stands against an order; thrown inside the transaction, so that nothing is written. */
class MovementBlocked extends Refusal {
  constructor(
    readonly orderNumber: number,
    readonly step: Step,
    readonly movement: Movement,
  ) {
    const names = movement.blocks.map(({ rule }) => rule.name).join('; ');
    super(409, `Order ${orderNumber} may not go`, `It was not ${step}. Against it stands: ${names}.`);
  }
}

/** Throws where a rule stands against an order on the day it leaves at the earliest. Call it inside a transaction. */
export function refuseBlocked(tx: Db, { id, number }: OfOrder, step: Step, today: Day) {
  const movement = movementOf(tx, id, today);
  if (movement.blocks.length > 0) throw new MovementBlocked(number, step, movement);
}

/** The same for the very day it left; with a reason it is only said whether a rule stood against it. */
export function leftAgainstRules(tx: Db, { id, number }: OfOrder, day: Day, reason: string): boolean {
  const movement = movementOn(tx, id, day);
  if (movement.blocks.length > 0 && reason === '') throw new MovementBlocked(number, 'sent', movement);
  return movement.blocks.length > 0;
}

/** The page for such a refusal; any other error is thrown on. */
export function answerBlocked(call: StaffCall, error: unknown, sent: FormState | null = null): Answer {
  if (!(error instanceof MovementBlocked)) throw error;
  const { day, blocks, warnings } = error.movement;
  const { orderNumber: number, step } = error;
  const props = { furniture: call.furniture, order: { number }, step, day, blocks, warnings, sent };
  return page(h(BlockedPage, props), 409);
}
