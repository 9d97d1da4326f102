import type { ComponentChildren } from 'preact';
import {
  type Begun,
  type FirstStep,
  firstSteps,
  nextStep,
  type StepKey,
} from '../../shared/settings/first-steps.ts';
import { LinkButton, PostButton } from '../layout/button.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';

export const firstStepsHref = '/settings/first-steps';

type Words = {
  title: string;
  what: string;
  href: string;
  label: string;
  also?: { href: string; label: string };
};

const cultureHref = (code: string) => `/cultures/${encodeURIComponent(code)}`;

const plain: Record<'species' | 'enclosures' | 'places' | 'cultures', Words> = {
  species: {
    title: 'What you keep',
    what: 'Begin with common species and make their figures yours, or write down your own. What a group of starters costs stands there too. If you keep a list or a diary in a spreadsheet, bring it: species, enclosures, places and cultures come with it.',
    href: '/species',
    label: 'Write down species',
    also: { href: '/records', label: 'Bring your lists' },
  },
  enclosures: {
    title: 'What they live in',
    what: 'Boxes, tubs and jars with their measures: the litres of substrate decide how many animals fit.',
    href: '/enclosures',
    label: 'Write down enclosures',
  },
  places: {
    title: 'Where they stand',
    what: 'Rooms, racks and shelves in the order you walk past them. One room is enough to begin with.',
    href: '/places',
    label: 'Write down places',
  },
  cultures: {
    title: 'Your first culture',
    what: 'One enclosure with one colony in it. A list or a diary that you keep in a spreadsheet can be brought in instead.',
    href: '/cultures/new',
    label: 'Write down a culture',
    also: { href: '/records', label: 'Bring your lists' },
  },
};

function ofCount({ toCount }: Begun): Words {
  return {
    title: 'The first count',
    what: 'Rough is fine: what shows at the wall takes a minute. From it comes how many are in there, and how sure that is.',
    href: toCount ? `${cultureHref(toCount)}/count` : '/cultures',
    label: toCount ? `Count ${toCount}` : 'To the cultures',
  };
}

function ofSplit({ toSplit }: Begun): Words {
  const spare = (toSplit?.spareGroups ?? 0) > 0;
  return {
    title: 'The first split',
    what: spare
      ? 'Part of a colony starts a culture of its own; what must stay is worked out for you.'
      : 'Part of a colony starts a culture of its own. No culture is sure to spare a group yet: a full count may show that one can, or this step waits until one has grown.',
    href: toSplit ? `${cultureHref(toSplit.code)}/split` : '/cultures',
    label: toSplit ? `Split ${toSplit.code}` : 'To the cultures',
  };
}

const ofOrder: Words = {
  title: 'The first order',
  what: 'Who gets which groups, and when. You write down the customer on the way.',
  href: '/orders/new',
  label: 'Write down an order',
};

function ofPacking({ toPack }: Begun): Words {
  return {
    title: 'The first packing sheet',
    what: toPack?.confirmed
      ? 'Print the packing sheet under Papers, take the animals from where it says, and say Pack.'
      : 'Reserve the animals of an order and confirm it. Its packing sheet and care sheets are then there to print, and it can be packed.',
    href: toPack ? `/orders/${toPack.number}` : '/orders',
    label: toPack ? `To order ${toPack.number}` : 'To the orders',
  };
}

function wordsOf(key: StepKey, begun: Begun): Words {
  if (key === 'count') return ofCount(begun);
  if (key === 'split') return ofSplit(begun);
  if (key === 'packing') return ofPacking(begun);
  return key === 'order' ? ofOrder : plain[key];
}

type StepProps = { step: FirstStep; words: Words; isNext: boolean };

function Title({ step, words, isNext }: StepProps) {
  if (step.done || isNext || !step.possible) return <>{words.title}</>;
  return <a href={words.href}>{words.title}</a>;
}

function Step(props: StepProps) {
  const { step, words, isNext } = props;
  return (
    <li
      class={step.done ? 'first-step first-step-done' : 'first-step'}
      aria-current={isNext ? 'step' : undefined}
    >
      <p class="first-step-title">
        <span class="first-step-mark">{step.done && <Mark kind="done" />}</span>
        <Title {...props} />
        {step.done && <span class="quiet">done</span>}
      </p>
      {isNext && (
        <div class="first-step-now">
          <p>{words.what}</p>
          <div class="actions">
            <LinkButton href={words.href} kind="main">
              {words.label}
            </LinkButton>
            {words.also && <LinkButton href={words.also.href}>{words.also.label}</LinkButton>}
          </div>
        </div>
      )}
    </li>
  );
}

/** The way through the first hour: what is done, what is next, and what comes then. */
export function FirstStepList({ begun }: { begun: Begun }) {
  const steps = firstSteps(begun);
  const next = nextStep(steps);
  return (
    <ol class="first-steps">
      {steps.map((step) => (
        <Step key={step.key} step={step} words={wordsOf(step.key, begun)} isNext={step.key === next} />
      ))}
    </ol>
  );
}

export function stepsDone(begun: Begun): string {
  const steps = firstSteps(begun);
  return `${steps.filter(({ done }) => done).length} of ${steps.length} done`;
}

export function PutAwayButton({
  furniture,
  away,
}: {
  furniture: Furniture;
  away: boolean;
}): ComponentChildren {
  return (
    <PostButton
      furniture={furniture}
      action={firstStepsHref}
      fields={{ list: away ? 'back' : 'away' }}
      kind={away ? 'plain' : 'quiet'}
      label={away ? 'Show the list on the round again' : 'Put this list away'}
    />
  );
}

/** The list where the owner starts, until all is done or it is put away. */
export function FirstSteps({ furniture, begun }: { furniture: Furniture; begun: Begun }) {
  return (
    <section class="slip" aria-labelledby="first-steps">
      <h2 id="first-steps">First steps</h2>
      <p class="quiet">{stepsDone(begun)}. “Round” leads back here after each step.</p>
      <FirstStepList begun={begun} />
      <PutAwayButton furniture={furniture} away={false} />
    </section>
  );
}
