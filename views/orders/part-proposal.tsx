import { groupsField } from '../../shared/orders/form.ts';
import { animalsPerGroup, makeUpWords } from '../../shared/orders/make-up.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { type FormState, fieldOf } from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import { Notice } from '../layout/notice.tsx';
import { Computed } from '../layout/worked-out.tsx';
import { type Candidate, Candidates } from './candidates.tsx';
import { type OrderLineRow, SpeciesName } from './order-lines.tsx';
import { type Verdict, verdictWords } from './say-proposal.ts';

/** A line that lacks groups, and where they could come from. */
export type ProposedLine = {
  line: OrderLineRow;
  /** Cultures with groups entered, by proposal or by hand. */
  from: readonly Candidate[];
  /** Groups entered in all. */
  entered: number;
  /** Cultures that could also give, the ones that can spare most first, and how many more there are. */
  others: readonly Candidate[];
  notShown: number;
  /** What the proposal could not fill, and why; null when it filled all or was changed since. */
  unmet: { groups: number; why: string } | null;
};

export type ProposalState = {
  form: FormState;
  /** Null where the page shows what was typed and not what was proposed. */
  verdict: Verdict | null;
  /** Some estimates are of an earlier day. */
  catchingUp: boolean;
};

/** What kind of proposal it is, above the form. */
export function AboutProposal(props: ProposalState & { nothing: boolean; locale?: string }) {
  const { verdict, catchingUp, nothing, locale } = props;
  return (
    <>
      {verdict && !nothing && (
        <p class="measure">
          {verdictWords(verdict, locale)} Nothing is reserved yet: look, change what you like, then reserve.
        </p>
      )}
      {catchingUp && (
        <Notice tone="needs-you">
          Some estimates are of an earlier day and being brought up to today. What is reserved is held against
          today’s.
        </Notice>
      )}
    </>
  );
}

function Missing({ proposed }: { proposed: ProposedLine }) {
  const { line, entered, unmet } = proposed;
  const missing = line.groups - line.has;
  if (unmet)
    return (
      <Notice tone="needs-you" word="Not filled">
        <Computed of="allocation">
          {formatCount(unmet.groups, 'group')}, because {unmet.why}.
        </Computed>
      </Notice>
    );
  if (entered === missing) return null;
  return (
    <p>
      {formatCount(entered, 'group')} entered of {missing}.
    </p>
  );
}

type LineProps = { proposed: ProposedLine; form: FormState; brief?: boolean; locale?: string };

/** One line of an order: what is taken, and what could be taken instead. */
export function ProposedLineSection({ proposed, form, brief, locale }: LineProps) {
  const { line, from, others, notShown } = proposed;
  const name = line.scientificName;
  const table = { line, form, brief, locale };
  // Among the orders of a day each order has a heading of its own above.
  const Heading = brief ? 'h3' : 'h2';
  return (
    <section class="proposed-line">
      <Heading>
        {formatCount(line.groups - line.has, 'group')} of <SpeciesName {...line} />
      </Heading>
      <p class="quiet">
        {animalsPerGroup(line)} animals each: {makeUpWords(line)}
        {line.separateLines && '. Unrelated starts: each group from a different line of cultures'}
      </p>
      <Missing proposed={proposed} />
      {from.length > 0 && (
        <Candidates {...table} rows={from} caption={`Where groups of ${name} are taken from`} />
      )}
      {others.length > 0 && (
        <details>
          <summary>
            {formatCount(others.length, 'culture')} that could also give
            {notShown > 0 && ` (and ${notShown} more that are not shown)`}
          </summary>
          <Candidates {...table} rows={others} caption={`Other cultures of ${name} that can spare a group`} />
        </details>
      )}
    </section>
  );
}

/** The names of the boxes for groups, for the summary of what is wrong. */
export function labelsOf(lines: readonly ProposedLine[], prefix = ''): Record<string, string> {
  const labels: Record<string, string> = {};
  for (const { line, from, others } of lines)
    for (const row of [...from, ...others]) labels[groupsField(line.id, row.id)] = `${prefix}${row.code}`;
  return labels;
}

export const isEntered = (form: FormState, lineId: number, cultureId: number): boolean => {
  const { value, error } = fieldOf(form, groupsField(lineId, cultureId));
  return error !== undefined || (value != null && !['', '0'].includes(String(value).trim()));
};

/** Reserve; or see first what the groups entered by hand would leave. */
export function ProposalActions({ again, back }: { again: string; back: string }) {
  return (
    <Actions>
      <Button kind="main">Reserve</Button>
      <Button name="look" value="yes">
        What would that leave?
      </Button>
      <LinkButton href={again}>Propose again</LinkButton>
      <LinkButton href={back} kind="quiet">
        Reserve nothing
      </LinkButton>
    </Actions>
  );
}
