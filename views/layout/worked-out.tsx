import { type ComponentChildren, Fragment } from 'preact';
import { type WorkingName, workingHref, workings } from '../workings/registry.ts';
import { type Fact, Facts } from './facts.tsx';

type WorkedOutProps = {
  /** The calculations that the numbers here come from. */
  of: WorkingName | readonly WorkingName[];
  label?: string;
  open?: boolean;
  /** What goes in, with its values here. */
  here?: readonly (Fact | null | false)[];
  /** The reckoning with these values, a line each: `59 spare ÷ 14 in a group = 4 groups`. */
  so?: readonly (string | null | false)[];
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

function So({ lines }: { lines: readonly (string | null | false)[] }) {
  const said = lines.filter((line): line is string => !!line);
  if (said.length === 0) return null;
  return (
    <>
      <p>
        <strong>With the numbers here</strong>
      </p>
      <ul class="worked-out-so">
        {said.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
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
        {names.map((name) => (
          <Fragment key={name}>
            {names.length > 1 && (
              <p>
                <strong>{workings[name].title}</strong>
              </p>
            )}
            {!children && <Formula name={name} />}
            <Rest name={name} />
          </Fragment>
        ))}
      </div>
    </details>
  );
}

type CaseWorkedOutProps = {
  of: WorkingName;
  label: string;
  so: readonly (string | null | false)[];
  /** Says aloud which of several on a page it belongs to. */
  about: string;
};

/** One of several cases on a page, reckoned through; the formula stands once at the page's foot. */
export function CaseWorkedOut({ of, label, so, about }: CaseWorkedOutProps) {
  const lines = so.filter((line): line is string => !!line);
  if (lines.length === 0) return null;
  return (
    <details class="worked-out">
      <summary>
        {label} <span class="visually-hidden">{about}</span>
      </summary>
      <div class="worked-out-words">
        <ul class="worked-out-so">
          {lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
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
