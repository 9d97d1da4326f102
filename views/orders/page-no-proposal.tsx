import { Actions, LinkButton } from '../layout/button.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type NoProposalPageProps = {
  furniture: Furniture;
  title: string;
  why: 'busy' | 'late' | 'too large' | 'broken';
  again: string;
  back: { href: string; label: string };
};

const reasons: Record<NoProposalPageProps['why'], string> = {
  busy: 'Other proposals are being worked out just now. In a few seconds there will be room for yours.',
  late: 'It took too long, so it was given up. Perhaps the machine has much else to do just now.',
  'too large':
    'These are too many groups to be weighed against so many cultures at once. Propose for fewer orders.',
  broken: 'The calculation broke down. What happened is in the log.',
};

/** There is no proposal, why, and what can be done instead. */
export function NoProposalPage({ furniture, title, why, again, back }: NoProposalPageProps) {
  return (
    <Shell furniture={furniture} title={title} breadcrumbs={[{ href: '/orders', label: 'Orders' }, back]}>
      <p>There is no proposal this time. {reasons[why]}</p>
      <p>Nothing is reserved. Animals can be reserved by hand meanwhile, on the page of each order.</p>
      <Actions>
        <LinkButton href={again} kind="main">
          Try again
        </LinkButton>
        <LinkButton href={back.href}>{back.label}</LinkButton>
      </Actions>
    </Shell>
  );
}
