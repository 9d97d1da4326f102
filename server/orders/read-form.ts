import {
  mostLines,
  type OrderHead,
  type OrderLineForm,
  orderHead,
  orderLine,
  rowField,
} from '../../shared/orders/form.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import type { FormBody } from '../plumbing/call.ts';
import { readForm } from '../plumbing/forms.ts';

/** A line as it was typed, with the row of the form it stands in. */
export type TypedLine = OrderLineForm & { row: number };
export type OrderForm = { head: OrderHead; lines: TypedLine[] };
export type ReadOrder = { ok: true; data: OrderForm; form: FormState } | { ok: false; form: FormState };

const names = ['line', 'species', 'groups', 'price', 'separateLines'] as const;

/** How many rows the form had, up to the most that are read. */
export function rowsOf(body: FormBody): number {
  let rows = 0;
  while (rows < mostLines && body[rowField('species', rows)] !== undefined) rows += 1;
  return rows;
}

const isBlank = (value: FormBody[string]) => typeof value !== 'string' || value.trim() === '';

/** Reads an order with its lines; a row without species, groups and price is left out. */
export function readOrderForm(body: FormBody, currency: string): ReadOrder {
  const head = readForm(orderHead(currency), body);
  const errors = { ...head.form.errors };
  const lines: TypedLine[] = [];
  for (let row = 0; row < rowsOf(body); row++) {
    const fields: FormBody = {};
    for (const name of names) fields[name] = body[rowField(name, row)];
    if (isBlank(fields.species) && isBlank(fields.groups) && isBlank(fields.price)) continue;
    const line = readForm(orderLine(currency), fields);
    if (line.ok) lines.push({ ...line.data, row });
    else
      for (const name of names) {
        const message = line.form.errors[name];
        if (message) errors[rowField(name, row)] = message;
      }
  }
  const lineIsWrong = Object.keys(errors).some((name) =>
    /^(species|groups|price|line|separateLines)-/.test(name),
  );
  if (lines.length === 0 && !lineIsWrong)
    errors[rowField('species', 0)] = 'Choose a species: an order has at least one line.';
  const form = { values: head.form.values, errors };
  if (!head.ok || Object.keys(errors).length > 0) return { ok: false, form };
  return { ok: true, data: { head: head.data, lines }, form };
}
