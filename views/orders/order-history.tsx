import { type OrderState, stateWords } from '../../shared/orders/states.ts';
import { Moment } from '../layout/number.tsx';

export type HistoryStep = { id: number; state: OrderState; note: string; by: string | null; at: number };

export type OrderHistoryProps = { steps: readonly HistoryStep[]; timeZone: string; locale?: string };

/** Every step of an order, with who took it and when. */
export function OrderHistory({ steps, timeZone, locale }: OrderHistoryProps) {
  return (
    <section>
      <h2>History</h2>
      <ol class="history">
        {steps.map((step) => (
          <li key={step.id}>
            <span class="history-what keep-breaks">
              <strong>{stateWords[step.state]}</strong>
              {step.note && `: ${step.note}`}
            </span>
            <span class="quiet">
              <Moment at={step.at} timeZone={timeZone} locale={locale} />, {step.by ?? 'nobody signed in'}
            </span>
          </li>
        ))}
      </ol>
    </section>
  );
}
