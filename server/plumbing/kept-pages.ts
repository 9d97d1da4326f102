import type { JSX } from 'preact';
import { type Answer, page, redirect, wrongForm } from './answers.ts';
import type { FormState, StaffCall } from './call.ts';
import { filledWith, isWrong, tooLate } from './edits.ts';
import { withErrors } from './forms.ts';
import { addKept, type Kept, type KeptRow, keptIn, saveKept, setKeptRetired } from './kept-things.ts';
import type { RouteTable } from './route-table.ts';

export type Made<Values> = { ok: true; values: Values; form: FormState } | { ok: false; form: FormState };

/** Puts what a form came to together with what was typed. */
export const settle = <V>(
  form: FormState,
  made: { ok: true; values: V } | { ok: false; errors: Record<string, string> },
): Made<V> =>
  made.ok ? { ok: true, values: made.values, form } : { ok: false, form: withErrors(form, made.errors) };

/** How people write down, edit and give up things of one kind: kept in one way, asked for in forms of their own. */
export type KeptPages<Row extends KeptRow, Values extends { name: string }> = Kept<Row, Values> & {
  /** Below it the routes stand: '/parcels/boxes'. */
  address: string;
  /** The page that lists them. */
  list: string;
  /** The page of one, where it has one; people go there after saving. */
  pageOf?: (id: number) => string;
  /** What the form that was sent comes to. */
  made: (call: StaffCall, before: Row | null) => Made<Values> | Promise<Made<Values>>;
  /** The page that asks for a row that is edited, or for a new one. */
  form: (call: StaffCall, form: FormState, row: Row | null) => JSX.Element;
  saidRetired?: (row: Row, call: StaffCall) => string;
  saidBroughtBack?: (row: Row) => string;
};

const after = <R extends KeptRow, V extends { name: string }>(kept: KeptPages<R, V>, id: number) =>
  kept.pageOf?.(id) ?? kept.list;

async function add<R extends KeptRow, V extends { name: string }>(
  call: StaffCall,
  kept: KeptPages<R, V>,
): Promise<Answer> {
  const made = await kept.made(call, null);
  const back = (form: FormState) => wrongForm(kept.form(call, form, null));
  if (!made.ok) return back(made.form);
  const outcome = addKept(call, kept, made.values);
  if (isWrong(outcome)) return back(withErrors(made.form, outcome.errors));
  return redirect(after(kept, outcome.id), `${made.values.name} is written down.`);
}

async function save<R extends KeptRow, V extends { name: string }>(
  call: StaffCall,
  kept: KeptPages<R, V>,
): Promise<Answer> {
  const row = keptIn(call, kept);
  const made = await kept.made(call, row);
  const back = (form: FormState) => wrongForm(kept.form(call, form, row));
  if (!made.ok) return back(made.form);
  const outcome = saveKept(call, kept, row.id, made.values);
  if (outcome.overtaken) {
    const now = keptIn(call, kept);
    const form = tooLate(call, kept.shown(call, now), { subject: kept.subject(now.id) });
    return page(kept.form(call, form, now), 409);
  }
  if (isWrong(outcome)) return back(withErrors(made.form, outcome.errors));
  return redirect(after(kept, row.id), `${made.values.name} is saved.`);
}

function retire<R extends KeptRow, V extends { name: string }>(
  call: StaffCall,
  kept: KeptPages<R, V>,
): Answer {
  const row = keptIn(call, kept);
  setKeptRetired(call, kept, row.id, true);
  return redirect(kept.list, {
    text: kept.saidRetired?.(row, call) ?? `${row.name} is not offered any more.`,
    tone: 'plain',
    undo: { action: `${kept.address}/${row.id}/bring-back`, label: 'Undo' },
  });
}

function bringBack<R extends KeptRow, V extends { name: string }>(
  call: StaffCall,
  kept: KeptPages<R, V>,
): Answer {
  const row = keptIn(call, kept);
  setKeptRetired(call, kept, row.id, false);
  return redirect(kept.list, kept.saidBroughtBack?.(row) ?? `${row.name} is offered again.`);
}

/** The routes of one kind; only owners change what the business has. */
export function keptRoutes<R extends KeptRow, V extends { name: string }>(
  kept: KeptPages<R, V>,
  nav: string,
): RouteTable {
  const { address } = kept;
  const one = `${address}/:id`;
  const askNew = (call: StaffCall) =>
    page(kept.form(call, { values: kept.shown(call, null), errors: {} }, null));
  const askEdit = (call: StaffCall) => {
    const row = keptIn(call, kept);
    return page(kept.form(call, filledWith(kept.shown(call, row)), row));
  };
  const addOne = (call: StaffCall) => add(call, kept);
  const saveOne = (call: StaffCall) => save(call, kept);
  const retireOne = (call: StaffCall) => retire(call, kept);
  const bringBackOne = (call: StaffCall) => bringBack(call, kept);
  const owner = { access: 'owner', nav } as const;
  return [
    { method: 'GET', path: `${address}/new`, ...owner, handler: askNew },
    { method: 'POST', path: address, ...owner, handler: addOne },
    { method: 'GET', path: `${one}/edit`, ...owner, handler: askEdit },
    { method: 'POST', path: `${one}/edit`, ...owner, handler: saveOne },
    { method: 'POST', path: `${one}/retire`, ...owner, handler: retireOne },
    {
      method: 'POST',
      path: `${one}/bring-back`,
      ...owner,
      handler: bringBackOne,
    },
  ];
}
