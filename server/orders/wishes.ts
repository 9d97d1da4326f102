import { groupsToReserve } from '../../shared/orders/form.ts';
import { formatCount } from '../../views/layout/format.ts';
import type { FormBody } from '../plumbing/call.ts';
import type { Reserved, Wish } from './reserve.ts';

/** More groups than any page of ours has room for are not read. */
const mostFields = 3_000;

/** The groups entered beside cultures; empty and nought are no wish. */
export function wishesOf(body: FormBody): { wishes: Wish[]; errors: Record<string, string> } {
  const wishes: Wish[] = [];
  const errors: Record<string, string> = {};
  const fields = Object.entries(body).filter(([name]) => name.startsWith('groups-'));
  if (fields.length > mostFields) errors[''] = 'These are more cultures than one form can hold.';
  for (const [name, value] of fields.slice(0, mostFields)) {
    const ids = /^groups-(\d{1,15})-(\d{1,15})$/.exec(name);
    if (!ids || typeof value !== 'string' || value.trim() === '') continue;
    const groups = groupsToReserve.safeParse(value);
    if (!groups.success) errors[name] = groups.error.issues[0]?.message ?? 'Write a whole number.';
    else if (groups.data > 0)
      wishes.push({ lineId: Number(ids[1]), cultureId: Number(ids[2]), groups: groups.data });
  }
  return { wishes, errors };
}

export const nothingEntered = 'Enter how many groups to take beside at least one culture.';

/** What was reserved for one order, and what is still missing. */
export function reservedWords({ groups, animals, codes }: Reserved, missing: number): string {
  const next =
    missing === 0
      ? 'All groups are reserved: the order can be confirmed.'
      : `${formatCount(missing, 'group')} still missing.`;
  return `Reserved ${formatCount(groups, 'group')} (${animals} animals) from ${codes.join(', ')}. ${next}`;
}
