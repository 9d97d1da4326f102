/** What a word of a diary can mean. `leave out` is chosen knowingly: its rows are listed, not brought in. */
export const meanings = [
  'check',
  'visible count',
  'full count',
  'sample count',
  'removal count',
  'mark-recapture count',
  'water',
  'feed',
  'fruit in',
  'fruit out',
  'harvest',
  'addition',
  'split',
  'die-off',
  'deaths',
  'mites',
  'mould',
  'move',
  'quarantine',
  'release',
  'retirement',
  'note',
  'leave out',
] as const;
export type Meaning = (typeof meanings)[number];

// Words as breeders write them, also in German and Spanish (common practice, no source). "count" alone is not here: it may mean every animal
// or only those that showed, and taking one for the other would be wrong several times over, so it is asked.
const WORDS: Record<Exclude<Meaning, 'leave out'>, string> = {
  check:
    'check|checked|check up|checkup|inspection|inspected|look|looked|looked in|round|ok|all well|surface|moisture|kontrolle|kontrolliert|alles gut|revisión|revisado',
  'visible count':
    'seen|saw|see|visible|visible count|sighted|sighting|spotted|counted visible|visible animals|seen at surface|rough count|estimate|estimated|gesehen|sichtbar|visto|vistos',
  'full count':
    'full count|head count|headcount|total count|counted all|complete count|full|census|inventory|tipped out|alle gezählt|vollzählung|recuento completo|todos contados',
  'sample count': 'sample count|sample|sampled|subsample|stichprobe|muestra',
  'removal count': 'removal count|depletion count|depletion|fangzählung|wegfangzählung',
  'mark-recapture count':
    'mark-recapture count|mark recapture|mark-recapture|recapture|markiert und wiedergefangen|wiederfang|marcado y recaptura|recaptura',
  water:
    'water|watered|watering|mist|misted|misting|spray|sprayed|spraying|moistened|water ml|gegossen|bewässert|gesprüht|befeuchtet|wasser|regado|riego|agua',
  feed: 'feed|fed|food|feeding|fed them|foods|gefüttert|futter|fütterung|alimentado|comida',
  'fruit in':
    'fruit in|fruit-in|fruit|fruit added|fresh food|veg in|obst rein|gemüse rein|frischfutter|obst|gemüse|fruta|verdura',
  'fruit out':
    'fruit out|fruit-out|fruit removed|removed fruit|food out|leftovers out|removed food|removed leftovers|obst raus|gemüse raus|futterreste raus|reste raus|reste entfernt|fruta fuera|restos fuera|restos retirados',
  harvest:
    'harvest|harvested|sold|sale|sell|sales|shipped|taken|took|took out|removed animals|culled|given away|gave|order|verkauft|entnommen|abgegeben|vendido|vendidos|venta',
  addition:
    'addition|added|add|introduced|new animals|added animals|put in|top up|dazugesetzt|zugesetzt|añadido|añadidos',
  split:
    'split|splitted|split off|divided|division|new culture|started new|geteilt|abgeteilt|dividido|división',
  'die-off':
    'die-off|die off|dieoff|died|crash|crashed|losses|loss|lost|mortality|zusammenbruch|verluste|verlust|massensterben|eingegangen|mortandad|pérdidas|pérdida',
  deaths:
    'deaths|dead|found dead|doa|dead ones|tot|tote|muertos|tote tiere|tot gefunden|muerto|muertos encontrados',
  mites: 'mites|mite|grain mites|milben|milbe|ácaros',
  mould: 'mould|mold|mouldy|moldy|fungus|fungi|schimmel|moho',
  move: 'move|moved|relocated|new place|shelf change|umgestellt|umgezogen|trasladado',
  quarantine: 'quarantine|quarantined|isolated|isolation|quarantäne|cuarentena',
  release:
    'release|released|out of quarantine|quarantine over|quarantine ended|cleared|aus der quarantäne|quarantäne beendet|freigegeben|fin de cuarentena|fuera de cuarentena',
  retirement:
    'retirement|retired|ended|end|closed|gone|discarded|binned|finished|extinct|aufgelöst|beendet|terminado',
  note: 'note|notes|remark|comment|other|observation|misc|notiz|bemerkung|nota',
};

const MEANING_OF = new Map<string, Meaning>([
  ...Object.entries(WORDS).flatMap(([meaning, words]) =>
    words.split('|').map((word): [string, Meaning] => [word, meaning as Meaning]),
  ),
  ...meanings.map((meaning): [string, Meaning] => [meaning, meaning]),
]);

// Longer texts are no words, and the patterns below are only quick on short ones.
const LONGEST_WORD = 200;

/** A word in the form in which words are compared: lower case, single spaces, no full stop or colon at the end. */
export function wordForm(text: string): string {
  return text
    .slice(0, LONGEST_WORD)
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[_\s]+/g, ' ')
    .replace(/[.:!\s]+$/, '')
    .trim();
}

/**
 * What a word most likely means, or null where a person must say.
 *
 * @example guessMeaning('Saw') // 'visible count'
 * @example guessMeaning('count') // null: every animal, or those that showed?
 */
export function guessMeaning(word: string): Meaning | null {
  const form = wordForm(word);
  return MEANING_OF.get(form) ?? MEANING_OF.get(form.replace(/\s*\(.*\)$/, '')) ?? null;
}
