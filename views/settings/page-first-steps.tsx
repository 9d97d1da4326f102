import type { Begun } from '../../shared/settings/first-steps.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { FirstStepList, PutAwayButton, stepsDone } from './part-first-steps.tsx';

export type FirstStepsPageProps = { furniture: Furniture; begun: Begun; away: boolean; allDone: boolean };

const later = [
  { href: '/labels', label: 'Print labels', what: 'a code on every enclosure, which a phone’s camera reads' },
  {
    href: '/people',
    label: 'Invite whoever helps',
    what: 'they walk the round and pack, each under their own name',
  },
  {
    href: '/parcels/stock',
    label: 'Boxes and packs',
    what: 'then a parcel’s temperature on the way is worked out',
  },
  {
    href: '/parcels/carriers',
    label: 'Carriers',
    what: 'on which days parcels go, and which days they miss',
  },
  { href: '/settings/invoices', label: 'Invoices and taxes', what: 'before the first invoice is written' },
  {
    href: '/mails',
    label: 'Mails',
    what: 'what customers are told of their orders, once a mail server is named',
  },
  { href: '/settings/backups', label: 'Backups', what: 'made every night; best on a disk of their own' },
] as const;

/** The first steps in full, also when they are done or put away; and what comes after them. */
export function FirstStepsPage({ furniture, begun, away, allDone }: FirstStepsPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="First steps"
      purpose="The way from an empty page to the first packing sheet, read from what you have written down so far."
      breadcrumbs={[{ href: '/settings', label: 'Settings' }]}
    >
      <p>
        <strong>{stepsDone(begun)}.</strong>{' '}
        {away
          ? 'The list is put away: it stands on this page only.'
          : allDone
            ? 'The list is not shown on the round any more.'
            : 'The list stands on the round until all is done.'}
      </p>
      <FirstStepList begun={begun} />
      {(away || !allDone) && <PutAwayButton furniture={furniture} away={away} />}
      <h2>When there is time</h2>
      {later.map(({ href, label, what }) => (
        <p key={href}>
          <a href={href}>{label}</a>: {what}
        </p>
      ))}
    </Shell>
  );
}
