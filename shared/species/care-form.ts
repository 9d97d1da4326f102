import { z } from 'zod';
import { languages } from '../settings/languages.ts';
import { optionalLine, optionalLines, tidyLine } from '../text.ts';
import { type CareText, careHeadings, careHeadingWords, type SubstrateLayer } from './columns.ts';
import { careField } from './form.ts';

const careFields = Object.fromEntries(
  careHeadings.map((heading) => [careField(heading), optionalLines(4000)]),
) as Record<ReturnType<typeof careField>, ReturnType<typeof optionalLines>>;

/** A species' care text in one language. */
export const careTextForm = z.object({
  language: z.enum(languages, { error: 'Choose a language from the list.' }),
  commonName: optionalLine(120),
  cautions: optionalLines(4000),
  ...careFields,
});

export type CareTextForm = z.infer<typeof careTextForm>;

/** Which version is taken up again. */
export const againForm = z.object({
  version: z
    .string({ error: 'Choose a version.' })
    .regex(/^[1-9]\d{0,14}$/, 'Choose a version.')
    .transform(Number),
});

/** What the fields are called, for messages away from their field. */
export const careTextWords: Record<string, string> = {
  commonName: 'Common name',
  ...Object.fromEntries(careHeadings.map((heading) => [careField(heading), careHeadingWords[heading]])),
  cautions: 'Cautions',
  terms: 'Words of the drawing',
};

/** The text of the form by heading. */
export const careOfForm = (form: CareTextForm): CareText =>
  Object.fromEntries(careHeadings.map((heading) => [heading, form[careField(heading)]])) as CareText;

/** The words of the drawing and the recipe that a customer reads, each once (with or without a capital), in the order of the
 * sheet. */
export function termsOf(
  home: { name: string; ventilation: string } | null | undefined,
  layers: readonly SubstrateLayer[],
): string[] {
  const words = [
    home?.name ?? '',
    home?.ventilation ?? '',
    ...layers.flatMap((layer) => [layer.name, ...layer.parts.map((part) => part.material)]).reverse(),
  ];
  const bySmall = new Map<string, string>();
  for (const word of words) if (!bySmall.has(word.toLowerCase())) bySmall.set(word.toLowerCase(), word);
  return [...bySmall.values()].filter((word) => word !== '');
}

const mostTerms = 120;
export const termFields = {
  english: (i: number) => `english${i}`,
  words: (i: number) => `words${i}`,
};

/**
 * The words of a form by their English ones; rows without words are left out.
 *
 * @example readTerms({ english0: 'Soil', words0: 'Erde' }) // { Soil: 'Erde' }
 */
export function readTerms(body: Record<string, string | string[] | undefined>): Record<string, string> {
  const found: Record<string, string> = {};
  for (let i = 0; i < mostTerms; i += 1) {
    const [english, words] = [body[termFields.english(i)], body[termFields.words(i)]];
    if (typeof english !== 'string' || typeof words !== 'string') break;
    const [term, said] = [english.slice(0, 400), tidyLine(words).slice(0, 400)];
    if (term !== '' && said !== '') found[term] = said;
  }
  return found;
}
