import { ErrorSummary, Form } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { type CultureLeft, Leaves } from './part-leaves.tsx';
import {
  AboutProposal,
  labelsOf,
  ProposalActions,
  type ProposalState,
  type ProposedLine,
  ProposedLineSection,
} from './part-proposal.tsx';
import { sayProposal } from './say-worked-out.ts';

export type ProposePageProps = ProposalState & {
  furniture: Furniture;
  number: number;
  customerName: string;
  lines: readonly ProposedLine[];
  leaves: readonly CultureLeft[];
};

/** Which cultures could fill an order best; changed by hand, then reserved in one go. */
export function ProposePage(props: ProposePageProps) {
  const { furniture, number, customerName, lines, leaves, form } = props;
  const path = `/orders/${number}`;
  return (
    <Shell
      furniture={furniture}
      title={`Proposal for order ${number}`}
      purpose={`For ${customerName}: the best cultures for what is missing. Look, change, and reserve.`}
      width="wide"
      breadcrumbs={[
        { href: '/orders', label: 'Orders' },
        { href: path, label: `Order ${number}` },
      ]}
    >
      <ErrorSummary
        errors={form.errors}
        labels={labelsOf(lines)}
        title="Nothing is reserved yet. What to mend:"
      />
      <AboutProposal {...props} nothing={leaves.length === 0} locale={furniture.locale} />
      <Form furniture={furniture} action={`${path}/propose`}>
        {lines.map((proposed) => (
          <ProposedLineSection
            key={proposed.line.id}
            proposed={proposed}
            form={form}
            locale={furniture.locale}
          />
        ))}
        <Leaves rows={leaves} locale={furniture.locale} />
        <WorkedOut
          of={['allocation', 'surplus', 'population']}
          so={sayProposal(lines, leaves, furniture.locale)}
        />
        <ProposalActions again={`${path}/propose`} back={path} />
      </Form>
    </Shell>
  );
}
