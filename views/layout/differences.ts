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
  const text = (value: unknown) => [value ?? ''].flat().join(', ').trim();
  const said = (name: string, value: unknown): ComponentChildren => {
    const told = [value ?? '']
      .flat()
      .map((one) => choices[name]?.find((choice) => choice.value === String(one))?.label);
    if (told.length === 1) return told[0] ?? text(value);
    return told.every((label) => typeof label === 'string') ? told.join(', ') : text(value);
  };
  return Object.entries(words)
    .filter(([name]) => text(stored[name]) !== text(typed[name]))
    .map(([name, field]) => ({
      field,
      stored: said(name, stored[name]),
      yours: said(name, typed[name]),
    }));
}
