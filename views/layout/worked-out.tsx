import type { ComponentChildren } from 'preact';
import { type WorkingName, workingHref, workings } from '../workings/registry.ts';
import { Latin } from './code.tsx';
import { type Fact, Facts } from './facts.tsx';

/** A step of a reckoning; with two parts, the first is a scientific name. */
export type Step = string | readonly [latin: string, rest: string];
type Steps = readonly (Step | null | false)[];

type WorkedOutProps = {
  /** The calculations that the numbers here come from. */
  of: WorkingName | readonly WorkingName[];
  label?: string;
  open?: boolean;
  /** What goes in, with its values here. */
  here?: readonly (Fact | null | false)[];
  /** The reckoning with these values, a line each: `59 spare ÷ 14 in a group = 4 groups`. */
  so?: Steps;
  /** The formula in words where this page can say it better than the calculation's own page. */
  children?: ComponentChildren;
};

function Formula({ name }: { name: WorkingName }) {
  const { answers, inputs, formula } = workings[name];
  return (
    <>
      <p>{answers}</p>
      <p>Goes in: {inputs.join('; ')}.</p>
      {formula.map((words) => (
        <p key={words}>{words}</p>
      ))}
    </>
  );
}

type ExplainedProps = { name: WorkingName; isFirst: boolean; isOneOfSeveral: boolean; formula: boolean };

/** An explanation. Of several the first stands open, since it is asked for most; the others are a line each. */
function Explained({ name, isFirst, isOneOfSeveral, formula }: ExplainedProps) {
  const words = (
    <>
      {formula && <Formula name={name} />}
      <Rest name={name} />
    </>
  );
  const { title } = workings[name];
  if (isFirst)
    return (
      <>
        {isOneOfSeveral && (
          <p>
            <strong>{title}</strong>
          </p>
        )}
        {words}
      </>
    );
  return (
    <details class="worked-out">
      <summary>{title}</summary>
      <div class="worked-out-words">{words}</div>
    </details>
  );
}

function Rest({ name }: { name: WorkingName }) {
  const { title, changes, sources } = workings[name];
  return (
    <>
      <p>What would change it: {changes}</p>
      <p>
        Source: {sources.join('; ')}. <a href={workingHref(name)}>{title}, in full</a>
      </p>
    </>
  );
}

/** The steps of a reckoning, a line each. */
export function StepList({ lines }: { lines: Steps }) {
  return (
    <ul class="worked-out-so">
      {lines.map(
        (line, i) =>
          line && (
            <li key={i}>
              {typeof line === 'string' ? (
                line
              ) : (
                <>
                  <Latin>{line[0]}</Latin>
                  {line[1]}
                </>
              )}
            </li>
          ),
      )}
    </ul>
  );
}

function So({ lines }: { lines: Steps }) {
  if (!lines.some(Boolean)) return null;
  return (
    <>
      <p>
        <strong>With the numbers here</strong>
      </p>
      <StepList lines={lines} />
    </>
  );
}

/**
 * Where the numbers of a block come from, for whoever asks: what goes in with its values here, the formula in words,
 * what would change it, and the source. Every number marked as computed has one of these on its page.
 */
export function WorkedOut({ of, label, open, here, so = [], children }: WorkedOutProps) {
  const names = typeof of === 'string' ? [of] : of;
  return (
    <details class="worked-out" open={open} data-explains={names.join(' ')}>
      <summary>{label ?? 'How is this worked out?'}</summary>
      <div class="worked-out-words">
        {here && <Facts columns={2} items={here} />}
        <So lines={so} />
        {children}
        {names.map((name, i) => (
          <Explained
            key={name}
            name={name}
            isFirst={i === 0}
            isOneOfSeveral={names.length > 1}
            formula={!children}
          />
        ))}
      </div>
    </details>
  );
}

type CaseWorkedOutProps = {
  of: WorkingName;
  label: string;
  so: Steps;
  /** Says aloud which of several on a page it belongs to. */
  about: string;
};

/** One of several cases on a page, reckoned through; the formula stands once at the page's foot. */
export function CaseWorkedOut({ of, label, so, about }: CaseWorkedOutProps) {
  if (!so.some(Boolean)) return null;
  return (
    <details class="worked-out">
      <summary>
        {label} <span class="visually-hidden">{about}</span>
      </summary>
      <div class="worked-out-words">
        <StepList lines={so} />
        <p>
          <a href={workingHref(of)}>The formula, in full</a>
        </p>
      </div>
    </details>
  );
}

/** More words behind a line, which explain no calculation. */
export function More({ label, children }: { label: string; children: ComponentChildren }) {
  return (
    <details class="worked-out">
      <summary>{label}</summary>
      <div class="worked-out-words">{children}</div>
    </details>
  );
}

/** A number that the house worked out: its page must hold a `WorkedOut` of the same calculation. */
export function Computed({ of, children }: { of: WorkingName; children: ComponentChildren }) {
  return <span data-computed={of}>{children}</span>;
}
