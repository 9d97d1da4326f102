import { BothVersions } from './both-versions.tsx';
import { type Choices, differencesBetween } from './differences.ts';
import type { FormState } from './form-state.ts';

export type FilledFromProps = {
  form: FormState;
  /** The fields by their names, as both versions are told apart. */
  words: Record<string, string>;
  /** Of fields that are chosen from a list: what they stand for. */
  choices?: Choices;
};

/** Both versions, where somebody else saved meanwhile. */
export function SavedMeanwhile({ form, words, choices }: FilledFromProps) {
  const { values, meanwhile } = form;
  if (!meanwhile) return null;
  const { savedBy, savedWhen, stored } = meanwhile;
  const differences = differencesBetween(stored, values, words, choices);
  return <BothVersions savedBy={savedBy} savedWhen={savedWhen} differences={differences} />;
}

/**
 * Stands first in every form that edits what is kept: the mark of what it was filled from and, when somebody else
 * saved meanwhile, both versions.
 */
export function FilledFrom(props: FilledFromProps) {
  return (
    <>
      <input type="hidden" name="version" value={String(props.form.values.version ?? '')} />
      <SavedMeanwhile {...props} />
    </>
  );
}
