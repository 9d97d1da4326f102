import { type OrderState, stateWords } from '../../shared/orders/states.ts';
import { Mark } from '../layout/mark.tsx';

/** An order's state as a word; what still waits for somebody is marked. */
export function StateWord({ state }: { state: OrderState }) {
  return (
    <span class={`state state-${state}`}>
      {state === 'confirmed' && <Mark kind="needs-you" />}
      {(state === 'packed' || state === 'sent') && <Mark kind="done" />}
      {state === 'cancelled' && <Mark kind="harm" />} {stateWords[state]}
    </span>
  );
}
