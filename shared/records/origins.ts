import { wordForm } from './meanings.ts';

export type OriginMeaning = 'wild' | 'bought' | 'unknown';
export type StatusMeaning = 'active' | 'quarantine' | 'retired';

// Also in German and Spanish. Common practice, no source.
const ORIGINS: Record<OriginMeaning, string> = {
  wild: 'wild|wild caught|wild-caught|wc|field|field collected|collected|caught|found|wildfang|gesammelt|gefangen|gefunden|silvestre|salvaje|recolectado',
  bought:
    'bought|purchased|purchase|trade|traded|swap|swapped|gift|shop|breeder|expo|show|online|cb|captive bred|gekauft|zugekauft|kauf|getauscht|tausch|geschenkt|geschenk|züchter|börse|nachzucht|comprado|comprada|compra|cambio|intercambio|regalo|criador|feria',
  unknown:
    'unknown|?|??|-|n/a|na|none|not known|unsure|unbekannt|unklar|keine angabe|desconocido|desconocida|no se sabe',
};
const STATUSES: Record<StatusMeaning, string> = {
  active:
    'active|yes|y|ok|alive|running|good|going|growing|established|full|new|current|healthy|true|1|aktiv|läuft|ja|gut|lebt|neu|voll|activo|activa|sí|bien|viva|nueva|llena',
  quarantine:
    'quarantine|quarantined|isolated|isolation|sick|mites|quarantäne|krank|milben|cuarentena|enferma|ácaros',
  retired:
    'retired|ended|end|closed|dead|died|crashed|gone|extinct|discarded|finished|sold|sold off|no|n|inactive|false|0|former|aufgelöst|beendet|tot|gestorben|eingegangen|verkauft|nein|inaktiv|terminada|terminado|muerta|muerto|vendida|vendido|inactiva|inactivo',
};

const ORIGIN_OF = meaningsOf(ORIGINS);
const STATUS_OF = meaningsOf(STATUSES);

/** What a word for where a culture comes from most likely means; null where a person must say. */
export function guessOrigin(text: string): OriginMeaning | null {
  return ORIGIN_OF.get(wordForm(text)) ?? null;
}

/** What a word for the state of a culture most likely means; null where a person must say. */
export function guessStatus(text: string): StatusMeaning | null {
  return STATUS_OF.get(wordForm(text)) ?? null;
}

function meaningsOf<M extends string>(table: Record<M, string>): Map<string, M> {
  const entries = Object.entries(table) as [M, string][];
  return new Map(
    entries.flatMap(([meaning, words]) => words.split('|').map((word): [string, M] => [word, meaning])),
  );
}
