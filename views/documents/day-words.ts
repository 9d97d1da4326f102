import { speakerFor } from '../words/speaker.ts';

/** A day string as the bench papers say it, which are in English: `Wednesday 11 November 2026`. */
export const dayWords = (day: string, locale: string, length: 'long' | 'short' = 'long'): string =>
  speakerFor({ language: 'en', locale }).day(day, length);
