import type { OrderState } from '../../shared/orders/states.ts';
import { LinkButton } from '../layout/button.tsx';

export type OrderPapersProps = {
  number: number;
  state: OrderState;
};

/** The papers of an order, and a look at whether they can be printed as they are. */
export function OrderPapers({ number, state }: OrderPapersProps) {
  if (state === 'cancelled') return null;
  return (
    <section>
      <h2>Papers</h2>
      {state === 'draft' ? (
        <p>They can be printed once the order is confirmed.</p>
      ) : (
        <>
          <div class="actions paper-links">
            <LinkButton href={`/orders/${number}/packing-sheet.pdf`}>Packing sheet</LinkButton>
            <LinkButton href={`/orders/${number}/care-sheets.pdf`}>Care sheets</LinkButton>
            <LinkButton href={`/parcels/orders/${number}`}>How it travels</LinkButton>
          </div>
          <p class="quiet" hx-get={`/orders/${number}/papers`} hx-trigger="load" hx-swap="outerHTML">
            <a href={`/orders/${number}/papers`}>Are the papers all right?</a>
          </p>
        </>
      )}
    </section>
  );
}

/** What the papers of an order warn of, in one line. */
export function PaperCheck({ number, warnings }: { number: number; warnings: number }) {
  if (warnings === 0) return <p class="quiet">The papers can be printed as they are.</p>;
  return (
    <p>
      <a href={`/orders/${number}/papers`}>
        {warnings === 1 ? '1 warning about the papers' : `${warnings} warnings about the papers`}
      </a>
    </p>
  );
}
