export const culturesRoles = [
  'code',
  'species',
  'commonName',
  'morph',
  'lineName',
  'enclosure',
  'place',
  'foundedOn',
  'origin',
  'animals',
  'foundingSdLog',
  'status',
  'endedOn',
  'note',
] as const;
export const diaryRoles = ['date', 'code', 'what', 'number', 'note', 'by', 'details'] as const;

export type CulturesRole = (typeof culturesRoles)[number];
export type DiaryRole = (typeof diaryRoles)[number];
export type Role = CulturesRole | DiaryRole;

const words = (text: string): readonly string[] => text.split('|');

/** Headers as people write them, the likeliest first; also in German and Spanish (common practice, no source). */
export const culturesHeaders: Record<CulturesRole, readonly string[]> = {
  code: words(
    'code|culture|culture code|id|culture id|no|number|label|tub|name|colony|nr|nummer|kennung|código|codigo|número|numero',
  ),
  species: words('species|scientific name|latin name|latin|animal|taxon|kind|art|tierart|tier|especie'),
  commonName: words('common name|trade name|vernacular name|handelsname|nombre común'),
  morph: words('morph|colour|color|variety|form|strain|phase|farbform|farbe|variante|variedad'),
  lineName: words('line|bloodline|lineage|stock line|family|linie|línea'),
  enclosure: words(
    'enclosure|box|container|tub|tank|bin|enclosure type|cup|vivarium|size|behälter|dose|caja|recipiente',
  ),
  place: words(
    'place|where|location|position|shelf|rack|room|spot|ort|standort|platz|regal|lugar|ubicación|estante',
  ),
  foundedOn: words(
    'founded|founded on|started|start|start date|date|since|set up|begun|created|angesetzt|gestartet|ansatz|seit|datum|inicio|fecha|desde',
  ),
  origin: words(
    'origin|from|parent|source|parents|came from|split from|mother culture|herkunft|stammt aus|origen|procedencia',
  ),
  animals: words(
    'founding animals|started with|animals|founders|starting number|count|number|qty|n|start count|anzahl|tiere|startzahl|stück|animales|cantidad',
  ),
  foundingSdLog: words('founding sd log'),
  status: words('status|state|condition|active|zustand|estado'),
  endedOn: words('ended on|ended|end date|retired on|retired|closed|died|beendet|aufgelöst|terminado'),
  note: words(
    'note|notes|remarks|remark|comment|comments|info|notiz|notizen|bemerkung|bemerkungen|anmerkung|notas|observaciones',
  ),
};

export const diaryHeaders: Record<DiaryRole, readonly string[]> = {
  date: words('date|day|when|on|date of entry|logged|timestamp|datum|tag|wann|fecha|día'),
  code: words(
    'culture|code|culture code|id|culture id|tub|box|colony|name|which|nr|nummer|zucht|código|codigo|caja',
  ),
  what: words(
    'what|action|event|type|activity|task|kind|entry|did|done|was|aktion|tätigkeit|ereignis|qué|acción|tarea',
  ),
  number: words(
    'number|amount|quantity|qty|count|value|how many|n|animals|anzahl|menge|zahl|stück|cantidad|número',
  ),
  note: words(
    'note|notes|remarks|remark|comment|comments|info|observation|observations|notiz|notizen|bemerkung|bemerkungen|anmerkung|notas|observaciones',
  ),
  by: words('by|who|person|keeper|staff|helper|initials|user|done by|wer|quién'),
  details: words('details'),
};

const LONGEST_HEADER = 120;

/** A header in the form in which headers are compared: `Started_with (n)` is `started with`. */
export function headerForm(text: string): string {
  return text
    .slice(0, LONGEST_HEADER)
    .normalize('NFKC')
    .toLowerCase()
    .replace(/\(.*?\)|\[.*?\]/g, ' ')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}

/**
 * How well a header fits a role: 1 for the likeliest word, a little less for each further one, half where the
 * word is only a part of the header, 0 where nothing fits.
 *
 * @example headerScore('Started with', culturesHeaders.animals) // 0.98
 */
export function headerScore(header: string, words: readonly string[]): number {
  const form = headerForm(header);
  if (form === '') return 0;
  const at = words.indexOf(form);
  if (at >= 0) return 1 - 0.02 * at;
  const padded = ` ${form} `;
  return words.some((word) => word.length > 2 && padded.includes(` ${word} `)) ? 0.5 : 0;
}
