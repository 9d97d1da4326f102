import type { PlanKind } from '../../shared/splits/plan-form.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { Actions, LinkButton, PostButton } from '../layout/button.tsx';
import { formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Computed } from '../layout/worked-out.tsx';
import { planWords } from './say-plan.ts';

export type PlanData = {
  id: number;
  what: PlanKind;
  onDay: string;
  enclosures: number;
  enclosure: string;
  by: string | null;
};

export type PlansProps = {
  furniture: Furniture;
  code: string;
  plans: readonly PlanData[];
  proposal: { fullOn: string; enclosureId: number } | null;
  today: string;
};

/** Into what: '2 × 1 litre tub'. */
export const intoWords = ({ enclosures, enclosure }: Pick<PlanData, 'enclosures' | 'enclosure'>) =>
  enclosures === 1 ? enclosure : `${enclosures} × ${enclosure}`;

/** Calls a plan off, or says that it is done where no entry of the diary will say so. */
export function PlanButtons(props: {
  furniture: Furniture;
  plan: Pick<PlanData, 'id' | 'what'>;
  code: string;
  back: 'culture' | 'substrate';
}) {
  const { furniture, plan, code, back } = props;
  const about = `${planWords[plan.what]} of ${code}`;
  return (
    <div class="actions">
      {plan.what === 'split' && <LinkButton href={`${cultureHref(code)}/split`}>Split now</LinkButton>}
      {plan.what === 'repot' && (
        <>
          <LinkButton href={`${cultureHref(code)}/check#field-substrate`}>Write it down</LinkButton>
          <PostButton
            furniture={furniture}
            action={`/plans/${plan.id}/done`}
            label="Done already"
            ariaLabel={`Done already: ${about}`}
            fields={{ back }}
            kind="quiet"
          />
        </>
      )}
      <PostButton
        furniture={furniture}
        action={`/plans/${plan.id}/cancel`}
        label="Call off"
        ariaLabel={`Call off: ${about}`}
        fields={{ back }}
        kind="quiet"
      />
    </div>
  );
}

/** Takes a proposal over: one press. */
export function TakeProposal(props: {
  furniture: Furniture;
  code: string;
  what: PlanKind;
  day: string;
  enclosureId: number;
  back: 'culture' | 'substrate';
}) {
  const { furniture, code, what, day, enclosureId, back } = props;
  const shown = formatDay(day, furniture.locale, 'weekday');
  const about = what === 'split' ? 'the split' : 'it';
  return (
    <PostButton
      furniture={furniture}
      action={`${cultureHref(code)}/plan`}
      label={`Plan ${about} for ${shown}`}
      ariaLabel={`Plan ${about} for ${shown}: ${planWords[what]} of ${code}`}
      fields={{ what, onDay: day, enclosureId, enclosures: 1, back }}
      keyPart={what}
    />
  );
}

/** What is planned for a culture, and what its estimate proposes. */
export function Plans({ furniture, code, plans, proposal, today }: PlansProps) {
  const { locale } = furniture;
  return (
    <section aria-labelledby="plans-title">
      <h2 id="plans-title">Planned</h2>
      {plans.length === 0 && <p class="quiet">No split and no fresh substrate is planned.</p>}
      {plans.map((plan) => (
        <div class="slip" key={plan.id}>
          <p>
            <strong>{plan.what === 'split' ? 'Split' : 'Fresh substrate'}</strong> on{' '}
            {formatDay(plan.onDay, locale, 'weekday')}
            {plan.onDay < today && ' (overdue)'}, into {intoWords(plan)}
            {plan.by && `, planned by ${plan.by}`}.
          </p>
          <PlanButtons furniture={furniture} plan={plan} code={code} back="culture" />
        </div>
      ))}
      {proposal && (
        <p>
          <Computed of="population">
            {proposal.fullOn <= today
              ? 'By its estimate it is full now.'
              : `By its estimate it is likely full on about ${formatDay(proposal.fullOn, locale)}.`}
          </Computed>
        </p>
      )}
      <Actions>
        {proposal && (
          <TakeProposal
            furniture={furniture}
            code={code}
            what="split"
            day={proposal.fullOn}
            enclosureId={proposal.enclosureId}
            back="culture"
          />
        )}
        <LinkButton href={`${cultureHref(code)}/plan?what=${proposal ? 'repot' : 'split'}`}>
          Plan a split or fresh substrate
        </LinkButton>
      </Actions>
    </section>
  );
}
