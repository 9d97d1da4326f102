import type { DaysWork } from '../../shared/calendar/group-work.ts';
import type { PlanKind } from '../../shared/splits/plan-form.ts';
import { formatCount, formatDay, formatNumber } from '../layout/format.ts';

/** What is done, after "12 to". */
const doing: Record<string, string> = {
  check: 'look at',
  water: 'water',
  feed: 'feed',
  fruit: 'take fruit out of',
  young: 'look for young in',
  adults: 'look for adults in',
  substrate: 'give fresh substrate',
  retire: 'retire',
  count: 'count',
};

/** More codes than these fill a phone; the round shows all. */
const mostCodes = 15;

type Kinds = DaysWork<unknown>['kinds'];

/** "12 to water, 3 to feed". */
export const workTitle = (kinds: Kinds, locale?: string): string =>
  kinds
    .map(({ what, codes }) => `${formatNumber(codes.length, locale)} to ${doing[what] ?? what}`)
    .join(', ');

/** The cultures behind it, a line for each kind of work. */
export const workDetails = (kinds: Kinds, locale?: string): string =>
  kinds
    .map(({ what, codes }) => {
      const more = codes.length - mostCodes;
      const rest = more > 0 ? ` and ${formatNumber(more, locale)} more` : '';
      return `To ${doing[what] ?? what}: ${codes.slice(0, mostCodes).join(', ')}${rest}`;
    })
    .join('\n');

type Plan = {
  what: PlanKind;
  onDay: string;
  code: string;
  scientificName: string;
  morph: string;
  enclosures: number;
  enclosure: string;
};

export const planTitle = ({ what, code }: Pick<Plan, 'what' | 'code'>): string =>
  what === 'split' ? `Split ${code}` : `Fresh substrate for ${code}`;

export function planDetails(plan: Plan, isLate: boolean, locale?: string): string {
  const { scientificName, morph, enclosures, enclosure, onDay } = plan;
  return [
    [scientificName, morph].filter(Boolean).join(', '),
    `Into ${enclosures} × ${enclosure}`,
    isLate ? `Planned for ${formatDay(onDay, locale)}` : '',
  ]
    .filter(Boolean)
    .join('\n');
}

type Packing = { drafts: number; confirmed: number; packed: number };

/** "Packing day: 4 orders". Whose they are stays in the house. */
export const packingTitle = ({ drafts, confirmed, packed }: Packing, locale?: string): string =>
  `Packing day: ${formatCount(drafts + confirmed + packed, 'order', 'orders', locale)}`;

export const packingDetails = ({ drafts, confirmed, packed }: Packing): string =>
  [
    confirmed > 0 ? `${confirmed} confirmed` : '',
    drafts > 0 ? `${drafts} still to be confirmed` : '',
    packed > 0 ? `${packed} packed` : '',
  ]
    .filter(Boolean)
    .join('\n');
