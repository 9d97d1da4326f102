/** Where a starting figure comes from, said beside it wherever it is shown. */
export interface HandbookFigure {
  value: number;
  source: string;
}

/** How well a wall conducts heat, W/(m K); real boxes differ, so each is to be measured. */
export const conductivities = {
  'expanded polystyrene': { value: 0.035, source: 'a supplier’s sheet on EPS board, typical value' },
  'extruded polystyrene': { value: 0.029, source: 'a maker’s sheet on XPS board, R 5 per inch (ASTM C518)' },
  'corrugated board': { value: 0.06, source: 'handbook range 0.05 to 0.065, from memory' },
  'polyurethane foam': { value: 0.028, source: 'CIBSE Guide A, table 3.37' },
  'vacuum panel': { value: 0.006, source: 'new panels 0.004 to 0.008 with their edges, from memory' },
} as const satisfies Record<string, HandbookFigure>;

/** Films of air at the inside and outside of a box, W/(m2 K): natural convection and radiation, from memory. */
export const usualFilms = { inside: 8, outside: 15 } as const;

/** Water ice: what it takes to melt, J/kg; CRC Handbook 333.55, text books 333.2 to 335. */
export const ICE_LATENT_J_PER_KG = 333_600;
/** Liquid water, J/(kg K) at room temperature (from memory: 4.18 to 4.2 kJ). */
export const WATER_J_PER_KG_K = 4_186;
