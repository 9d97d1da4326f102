import { type Face, isBold, type PrintFace } from './faces.ts';

type Han = 'japanese' | 'simplified' | 'traditional';

/** Where Chinese characters are written in forms of their own: by country. */
const HAN_OF_COUNTRY: Record<string, Han> = {
  JP: 'japanese',
  TW: 'traditional',
  HK: 'traditional',
  MO: 'traditional',
};

const KANA = /[\p{Script=Hiragana}\p{Script=Katakana}]/u;
const BOPOMOFO = /\p{Script=Bopomofo}/u;
const HANGUL = /\p{Script=Hangul}/u;
const HAN_OR_SIGN =
  /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Bopomofo}\u3000-\u30ff\uff00-\uffef]/u;

/**
 * The faces that may hold a Chinese character, the likeliest first: by what else is written in the same text, else by
 * the reader's country, else as most who write them do.
 */
function hanFaces(text: string, country: string | undefined): Han[] {
  const first: Han = KANA.test(text)
    ? 'japanese'
    : BOPOMOFO.test(text) || HANGUL.test(text)
      ? 'traditional'
      : (HAN_OF_COUNTRY[country ?? ''] ?? (country === 'KR' ? 'traditional' : 'simplified'));
  const others: Han[] = ['simplified', 'traditional', 'japanese'];
  return [first, ...others.filter((each) => each !== first)];
}

/** The faces of the scripts in a word that may draw it, beside the plain ones. `text` is what it stands in. */
export function scriptFacesOf(
  word: string,
  text: string,
  face: Face,
  country: string | undefined,
): PrintFace[] {
  const bold = isBold(face);
  const found: PrintFace[] = [];
  if (/\p{Script=Arabic}/u.test(word)) found.push(bold ? 'arabicBold' : 'arabic');
  if (/\p{Script=Hebrew}/u.test(word)) found.push(bold ? 'hebrewBold' : 'hebrew');
  if (/\p{Script=Thai}/u.test(word)) found.push(bold ? 'thaiBold' : 'thai');
  if (/\p{Script=Devanagari}/u.test(word)) found.push(bold ? 'devanagariBold' : 'devanagari');
  if (HANGUL.test(word)) found.push('korean');
  if (HAN_OR_SIGN.test(word)) found.push(...hanFaces(text, country), 'korean');
  return found;
}

/** Scripts whose letters and marks need more height than Latin ones. */
export const isTall = (face: PrintFace): boolean => /^(arabic|thai|devanagari)/.test(face);

/** Between these a line may end without a space (Unicode Standard Annex 14, class ID; no line begins with a stop). */
export const IDEOGRAPH = '\\p{Script=Han}\\p{Script=Hiragana}\\p{Script=Katakana}';
export const NOT_AT_LINE_START =
  '\\u3001\\u3002\\uff0c\\uff0e\\u30fb\\uff1a\\uff1b\\uff1f\\uff01\\u30fc\\u300d\\u300f\\u3011\\uff09';
