/**
 * The styles of a page in the order in which they are read, each a file of its own in static/. A browser gets them as
 * one file by the name given here: thirty small ones cost a first visit more than all that stands in them.
 */
const common = ['tokens', 'base', 'frame', 'button', 'form', 'choice', 'components', 'page', 'table'];

export const styles = {
  'staff.css': [
    ...common,
    'chart',
    'stock',
    'round',
    'map',
    'waiting',
    'customer',
    'diary',
    'orders',
    'records',
    'lines',
    'traces',
    'labels',
    'counting',
    'count-next',
    'climate',
    'feeders',
    'parcels',
    'search',
    'people',
    'print',
  ],
  'customers.css': [...common, 'customer'],
} as const;

/** The faces that nearly every page needs at once; the others come when a page has something in them. */
export const firstFaces = ['400', '700'].map(
  (weight) => `/static/fonts/atkinson-hyperlegible-next-basic-${weight}-normal.woff2`,
);
