import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

/**
 * Contrast as WCAG 2.2 defines it (W3C Recommendation, "relative luminance" and "contrast ratio"):
 * 4.5 to 1 for text (success criterion 1.4.3), 3 to 1 for edges of controls and focus rings (1.4.11).
 */

const css = readFileSync(new URL('../../static/tokens.css', import.meta.url), 'utf8');

function tokensAfter(opening: string): Record<string, string> {
  const start = css.indexOf(opening);
  if (start < 0) throw new Error(`no block ${opening}`);
  const block = css.slice(start + opening.length, css.indexOf('}', start));
  return Object.fromEntries(
    [...block.matchAll(/--([a-z-]+):\s*(#[0-9a-f]{6});/g)].map((m) => [m[1]!, m[2]!]),
  );
}

const light = tokensAfter(':root {');
const darkBySystem = tokensAfter(':root:not([data-scheme="light"]) {');
const darkByChoice = tokensAfter(':root[data-scheme="dark"] {');
const print = tokensAfter(':root[data-scheme] {');

function luminance(colour: string): number {
  const parts = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16) / 255);
  const linear = parts.map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
  return 0.2126 * linear[0]! + 0.7152 * linear[1]! + 0.0722 * linear[2]!;
}

function contrast(one: string, other: string): number {
  const [dark, bright] = [luminance(one), luminance(other)].sort((a, b) => a - b) as [number, number];
  return (bright + 0.05) / (dark + 0.05);
}

/** Every text colour with every ground it stands on in the style. */
const textPairs: [string, string[]][] = [
  ['ink', ['paper', 'label', 'sunk', 'moss-paper', 'amber-paper', 'red-paper']],
  ['ink-soft', ['paper', 'label', 'sunk', 'moss-paper']],
  ['moss', ['paper', 'label', 'amber-paper', 'red-paper', 'moss-paper']],
  ['moss-deep', ['paper', 'label', 'moss-paper', 'amber-paper', 'red-paper']],
  ['on-moss', ['moss', 'moss-deep']],
  ['amber', ['paper', 'label', 'amber-paper']],
  ['red', ['paper', 'label', 'red-paper']],
];

const edgePairs: [string, string[]][] = [
  ['edge', ['paper', 'label']],
  ['moss', ['paper', 'label']],
  ['amber', ['paper', 'label', 'amber-paper']],
  ['red', ['paper', 'label', 'red-paper']],
  ['focus', ['paper', 'label', 'sunk', 'moss-paper', 'amber-paper', 'red-paper', 'focus-ring']],
];

const flat = (pairs: [string, string[]][]) =>
  pairs.flatMap(([front, grounds]) => grounds.map((ground) => [front, ground] as const));

describe('the measure itself', () => {
  it('agrees with known ratios', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6); // WCAG 2.2: ratios run from 1 to 21
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2); // often quoted as just failing; from memory
  });
});

describe.each([
  ['light', light],
  ['dark', darkBySystem],
])('%s', (_name, tokens) => {
  it.each(flat(textPairs))('%s on %s can be read', (front, ground) => {
    expect(contrast(tokens[front]!, tokens[ground]!)).toBeGreaterThanOrEqual(4.5);
  });

  it.each(flat(edgePairs))('%s against %s can be seen', (front, ground) => {
    expect(contrast(tokens[front]!, tokens[ground]!)).toBeGreaterThanOrEqual(3);
  });
});

describe('the themes', () => {
  it('are the same dark whether the system or the person asks for it', () => {
    expect(Object.keys(darkBySystem).length).toBeGreaterThan(10);
    expect(darkByChoice).toEqual(darkBySystem);
    expect(Object.keys(light)).toEqual(Object.keys(darkBySystem));
  });

  it('print black on white', () => {
    for (const front of ['ink', 'moss', 'amber', 'red']) expect(print[front]).toBe('#000000');
    for (const ground of ['paper', 'label', 'sunk', 'red-paper']) expect(print[ground]).toBe('#ffffff');
    expect(contrast(print['ink-soft']!, '#ffffff')).toBeGreaterThanOrEqual(7);
  });

  it('are those of paper when printed, also from a dark screen: no selector of the screen weighs more', () => {
    // Selectors Level 4 (W3C), "Calculating a selector's specificity": here only classes and attributes differ, and
    // :not() counts as what stands in it. Of equals the later one holds, and print stands last.
    const weight = (selector: string) => (selector.match(/:root|\[/g) ?? []).length;
    const at = css.indexOf('@media print');
    const printed = css
      .slice(at, css.indexOf('{', css.indexOf(':root', at)))
      .split('{')[1]!
      .split(',');
    expect(printed.map((one) => one.trim())).toContain(':root:not([data-scheme])');
    const screens = [...css.slice(0, at).matchAll(/:root[^,{]*(?= \{)/g)].map(([selector]) => selector);
    for (const named of [false, true]) {
      const meant = printed.filter((one) => one.includes(':not(') !== named);
      const heaviest = Math.max(...meant.map(weight));
      expect(screens.filter((selector) => weight(selector) > heaviest)).toEqual([]);
    }
  });

  it('hold every colour of the style: no other file names one', () => {
    const folder = new URL('../../static/', import.meta.url);
    const others = readdirSync(folder).filter((name) => name.endsWith('.css') && name !== 'tokens.css');
    expect(others.length).toBeGreaterThan(6);
    for (const name of others) {
      const file = readFileSync(new URL(name, folder), 'utf8');
      expect(file, name).not.toMatch(/#[0-9a-f]{3,8}\b|rgba?\(|hsla?\(/i);
    }
  });
});
