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

/**
 * Stands first in every form that edits what is kept: the mark of what it was filled from and, when somebody else
 * saved meanwhile, both versions.
 */
export function FilledFrom({ form, words, choices }: FilledFromProps) {
  const { values, meanwhile } = form;
  return (
    <>
      <input type="hidden" name="version" value={String(values.version ?? '')} />
      {meanwhile && (
        <BothVersions
          savedBy={meanwhile.savedBy}
          savedWhen={meanwhile.savedWhen}
          differences={differencesBetween(meanwhile.stored, values, words, choices)}
        />
      )}
    </>
  );
}
