import type { Objection } from '../../shared/cultures/objections.ts';
import { Actions, Button } from '../layout/button.tsx';
import { CheckField, Field, type FormState, fieldOf, manyOf } from '../layout/form.tsx';
import { Mark } from '../layout/mark.tsx';

export type ObjectionsProps = {
  objections: readonly Objection[];
  form: FormState;
  isOwner: boolean;
  /** The words of the button that sends the form once more. */
  submit: string;
};

function One({
  objection,
  form,
  isOwner,
}: { objection: Objection } & Pick<ObjectionsProps, 'form' | 'isOwner'>) {
  const chosen = manyOf(form, 'despite');
  const mayDecide = isOwner || !objection.ownerOnly;
  return (
    <li>
      <p>{objection.text}</p>
      {mayDecide ? (
        <CheckField
          label={objection.tick}
          name="despite"
          value={objection.name}
          checked={chosen.values.includes(objection.name)}
          id={`${chosen.id}-${objection.name}`}
        />
      ) : (
        <p>
          <strong>Only the owner can decide this.</strong> Ask the owner, or take fewer animals.
        </p>
      )}
    </li>
  );
}

/**
 * What speaks against an entry that was to be written, on top of the form that came back: nothing is written yet.
 * Each objection is overruled with its own tick, by whoever may.
 */
export function Objections({ objections, form, isOwner, submit }: ObjectionsProps) {
  if (objections.length === 0) return null;
  const mayDecide = objections.every((o) => isOwner || !o.ownerOnly);
  return (
    <section
      class="objections"
      role="alert"
      tabIndex={-1}
      data-focus="now"
      aria-labelledby="objections-title"
    >
      <h2 id="objections-title">
        <Mark kind="needs-you" /> Nothing is written down yet
      </h2>
      <ul>
        {objections.map((o) => (
          <One key={o.name} objection={o} form={form} isOwner={isOwner} />
        ))}
      </ul>
      {mayDecide && (
        <>
          {objections.some((o) => o.needsReason) && (
            <Field
              label="Why all the same"
              maxLength={300}
              size="long"
              help="Kept in the diary."
              {...fieldOf(form, 'reason')}
            />
          )}
          <Actions>
            <Button kind="harm">{submit}</Button>
          </Actions>
        </>
      )}
    </section>
  );
}
