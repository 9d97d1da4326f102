/** The states of an order, in the order it goes through them; a cancelled one leaves that way. */
export const orderStates = ['draft', 'confirmed', 'packed', 'sent', 'closed', 'cancelled'] as const;
export type OrderState = (typeof orderStates)[number];

/** What still wants doing: these are shown when nobody asks for others. */
export const openStates: readonly OrderState[] = ['draft', 'confirmed', 'packed'];

const next: Record<OrderState, readonly OrderState[]> = {
  // back to draft when a reservation is released
  draft: ['confirmed', 'cancelled'],
  confirmed: ['draft', 'packed', 'cancelled'],
  // back when it was not packed, sent or closed after all
  packed: ['confirmed', 'draft', 'sent'],
  sent: ['packed', 'closed'],
  closed: ['sent'],
  cancelled: [],
};

/**
 * Whether an order may go from one state to another.
 *
 * @example mayBecome('draft', 'packed') // false: it is confirmed in between
 */
export const mayBecome = (from: OrderState, to: OrderState): boolean => next[from].includes(to);

/** What is said of an order in each state. */
export const stateWords: Record<OrderState, string> = {
  draft: 'Draft',
  confirmed: 'Confirmed',
  packed: 'Packed',
  sent: 'Sent',
  closed: 'Closed',
  cancelled: 'Cancelled',
};

export const isOrderState = (text: string): text is OrderState =>
  (orderStates as readonly string[]).includes(text);
