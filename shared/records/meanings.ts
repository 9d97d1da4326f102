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

// Words as breeders write them (common practice, no source). "count" alone is not here: it may mean every animal
// or only those that showed, and taking one for the other would be wrong several times over, so it is asked.
const WORDS: Record<Exclude<Meaning, 'leave out'>, string> = {
  check:
    'check|checked|check up|checkup|inspection|inspected|look|looked|looked in|round|ok|all well|surface|moisture',
  'visible count':
    'seen|saw|see|visible|visible count|sighted|sighting|spotted|counted visible|visible animals|seen at surface|rough count|estimate|estimated',
  'full count':
    'full count|head count|headcount|total count|counted all|complete count|full|census|inventory|tipped out',
  'sample count': 'sample count|sample|sampled|subsample',
  'removal count': 'removal count|depletion count|depletion',
  'mark-recapture count': 'mark-recapture count|mark recapture|mark-recapture|recapture',
  water: 'water|watered|watering|mist|misted|misting|spray|sprayed|spraying|moistened|water ml',
  feed: 'feed|fed|food|feeding|fed them|foods',
  'fruit in': 'fruit in|fruit-in|fruit|fruit added|fresh food|veg in',
  'fruit out':
    'fruit out|fruit-out|fruit removed|removed fruit|food out|leftovers out|removed food|removed leftovers',
  harvest:
    'harvest|harvested|sold|sale|sell|sales|shipped|taken|took|took out|removed animals|culled|given away|gave|order',
  addition: 'addition|added|add|introduced|new animals|added animals|put in|top up',
  split: 'split|splitted|split off|divided|division|new culture|started new',
  'die-off': 'die-off|die off|dieoff|died|crash|crashed|losses|loss|lost|mortality',
  deaths: 'deaths|dead|found dead|doa|dead ones',
  mites: 'mites|mite|grain mites',
  mould: 'mould|mold|mouldy|moldy|fungus|fungi',
  move: 'move|moved|relocated|new place|shelf change',
  quarantine: 'quarantine|quarantined|isolated|isolation',
  release: 'release|released|out of quarantine|quarantine over|quarantine ended|cleared',
  retirement: 'retirement|retired|ended|end|closed|gone|discarded|binned|finished|extinct',
  note: 'note|notes|remark|comment|other|observation|misc',
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
