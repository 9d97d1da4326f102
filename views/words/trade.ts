import type { Language } from '../../shared/settings/languages.ts';

type Translated = Record<Exclude<Language, 'en'>, string>;

/**
 * What enclosures, layers, materials and animals of the starter set are called, by their English words in small letters.
 * An owner's own words for them come first.
 */
const trade: Record<string, Translated> = {
  '1 litre jar': { de: 'Glas mit 1 Liter', es: 'tarro de 1 litro' },
  '1 litre tub': { de: 'Dose mit 1 Liter', es: 'tarrina de 1 litro' },
  '6 litre box': { de: 'Box mit 6 Litern', es: 'caja de 6 litros' },
  '12 litre box': { de: 'Box mit 12 Litern', es: 'caja de 12 litros' },
  '45 litre box': { de: 'Box mit 45 Litern', es: 'caja de 45 litros' },
  'a dozen pin holes in the lid.': {
    de: 'Ein Dutzend Nadellöcher im Deckel.',
    es: 'Una docena de agujeros de alfiler en la tapa.',
  },
  'a mesh window in the lid; a smooth band under the rim keeps climbers in.': {
    de: 'Ein Gazefenster im Deckel; ein glatter Streifen unter dem Rand hält Kletterer auf.',
    es: 'Una ventana de malla en la tapa; una banda lisa bajo el borde detiene a los que trepan.',
  },
  'fine fabric or foam over the whole mouth, tight enough for flies and mites.': {
    de: 'Feiner Stoff oder Schaumstoff über der ganzen Öffnung, dicht gegen Fliegen und Milben.',
    es: 'Tela fina o espuma sobre toda la boca, cerrada al paso de moscas y ácaros.',
  },
  'two mesh-covered holes on opposite sides, one low and one high.': {
    de: 'Zwei Löcher mit Gaze auf gegenüberliegenden Seiten, eines unten und eines oben.',
    es: 'Dos agujeros con malla en lados opuestos, uno abajo y otro arriba.',
  },
  'bark pieces': { de: 'Rindenstücke', es: 'trozos de corteza' },
  'dry hardwood leaves': { de: 'trockenes Laub', es: 'hojas secas de frondosas' },
  'dry leaf and bran litter': { de: 'Streu aus Laub und Kleie', es: 'mantillo seco de hojas y salvado' },
  'dry soil mix': { de: 'trockene Erdmischung', es: 'mezcla seca de tierra' },
  'fly food, boiled and cooled': {
    de: 'Fliegenfutter, gekocht und abgekühlt',
    es: 'alimento para moscas, hervido y enfriado',
  },
  'grub soil': { de: 'Erde für Engerlinge', es: 'tierra para larvas' },
  'millipede soil': { de: 'Erde für Tausendfüßer', es: 'tierra para milpiés' },
  'soil mix': { de: 'Erdmischung', es: 'mezcla de tierra' },
  'washed clay balls': { de: 'gewaschener Blähton', es: 'arcilla expandida lavada' },
  'brewer’s yeast': { de: 'Bierhefe', es: 'levadura de cerveza' },
  'coarse sand': { de: 'grober Sand', es: 'arena gruesa' },
  'coconut fibre': { de: 'Kokosfaser', es: 'fibra de coco' },
  'crumbled charcoal': { de: 'zerkleinerte Holzkohle', es: 'carbón vegetal desmenuzado' },
  'crumbled dry hardwood leaves': {
    de: 'zerbröseltes trockenes Laub',
    es: 'hojas secas de frondosas desmenuzadas',
  },
  'crumbled dry leaves': { de: 'zerbröselte trockene Blätter', es: 'hojas secas desmenuzadas' },
  'crushed limestone': { de: 'gemahlener Kalkstein', es: 'caliza triturada' },
  'flat pieces of dry bark': { de: 'flache Stücke trockener Rinde', es: 'trozos planos de corteza seca' },
  'leaf compost, free of pesticide': {
    de: 'Laubkompost ohne Pestizide',
    es: 'compost de hojas sin pesticidas',
  },
  'mashed potato flakes': { de: 'Kartoffelpüreeflocken', es: 'copos de puré de patata' },
  'oat flakes': { de: 'Haferflocken', es: 'copos de avena' },
  'soft white rotten hardwood, crumbled': {
    de: 'weißfaules Laubholz, weich, zerbröselt',
    es: 'madera blanda con pudrición blanca, desmenuzada',
  },
  sugar: { de: 'Zucker', es: 'azúcar' },
  'wheat bran': { de: 'Weizenkleie', es: 'salvado de trigo' },
  'zebra isopod': { de: 'Zebraassel', es: 'cochinilla cebra' },
  'dairy cow isopod': { de: 'Kuhassel', es: 'cochinilla vaca lechera' },
  'powder blue isopod': { de: 'blaubereifte Assel', es: 'cochinilla azul empolvada' },
  'dwarf white isopod': { de: 'weiße Zwergassel', es: 'cochinilla enana blanca' },
  'white springtail': { de: 'weißer Springschwanz', es: 'colémbolo blanco' },
  'dubia roach': { de: 'Argentinische Waldschabe', es: 'cucaracha dubia' },
  'sun beetle': { de: 'Kongo-Rosenkäfer', es: 'escarabajo del sol' },
  'flightless fruit fly': { de: 'flugunfähige Fruchtfliege', es: 'mosca de la fruta no voladora' },
  'house pseudoscorpion': { de: 'Bücherskorpion', es: 'pseudoescorpión de los libros' },
  'ivory millipede': { de: 'Elfenbein-Tausendfüßer', es: 'milpiés marfil' },
};

/**
 * A word of the trade in another language, with a capital where the English one has it; undefined when it is not known.
 *
 * @example tradeWord('de', 'Soil mix') // 'Erdmischung'
 */
export function tradeWord(language: Language, english: string): string | undefined {
  if (language === 'en') return undefined;
  const key = english.trim().toLowerCase();
  const known = Object.hasOwn(trade, key) ? trade[key]?.[language] : undefined;
  if (known === undefined) return undefined;
  const capital = /^\p{Lu}/u.test(english.trim());
  return capital ? known.charAt(0).toUpperCase() + known.slice(1) : known;
}
