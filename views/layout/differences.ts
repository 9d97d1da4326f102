import type { ComponentChildren } from 'preact';
import type { Difference } from './both-versions.tsx';
import type { FormState } from './form-state.ts';

export type Choices = Record<string, readonly { value: string; label: ComponentChildren }[]>;

/**
 * Where what is stored now (as the form would show it) and what was typed are not the same, by the fields' names.
 * Fields that are chosen from a list are told in the list's words.
 */
export function differencesBetween(
  stored: FormState['values'],
  typed: FormState['values'],
  words: Record<string, string>,
  choices: Choices = {},
): Difference[] {
  const text = (value: unknown) => (Array.isArray(value) ? value.join(', ') : String(value ?? '')).trim();
  const said = (name: string, value: string) =>
    choices[name]?.find((one) => one.value === value)?.label ?? value;
  return Object.entries(words)
    .map(([name, field]) => ({ name, field, stored: text(stored[name]), yours: text(typed[name]) }))
    .filter((one) => one.stored !== one.yours)
    .map(({ name, field, stored: theirs, yours }) => ({
      field,
      stored: said(name, theirs),
      yours: said(name, yours),
    }));
}
