export interface Tolerance {
  within: number | Record<string, number>;
  because: string;
  /** Only where the row's own tolerance cannot hold: why ours is wider. */
  wider?: string;
}

/** How near our figure must come to a row's, and why not nearer; not wider than the row itself allows. */
export const tolerances: Record<string, Tolerance> = {
  'a01-petersen-krebs': {
    within: { N: 0.5, lcl95: 0.6 },
    because: 'both are printed as whole numbers, the limit with z = 1.96',
  },
  'a02-chapman-krebs': { within: 0.5, because: 'printed as a whole number' },
  'a03-chapman-ricker': {
    within: 0.6,
    because: 'printed as a whole number by a source that leaves the last -1 out, then rounds',
  },
  'a04-chapman-seber-3.7': {
    within: { N: 0.6, se: 0.6, ucl95: 1 },
    because: 'printed as whole numbers, the limit from the rounded two and z = 1.96',
  },
  'a07-zero-recaptures': { within: 1e-9, because: 'a closed form: only rounding of the last digit' },
  'b01-carlestrub-ex1': {
    within: { N: 0, p: 0.0006, se: 0.06 },
    because: 'N is whole; p is printed with three decimals, the standard error with one',
  },
  'b02-carlestrub-cowx5': { within: { N: 0, p: 0.0006 }, because: 'N is whole; p as printed, 0.25' },
  'b04-seber2-cowx': {
    within: { N: 0.5, se: 0.006, p: 0.006 },
    because: 'printed as a whole number and with two decimals',
  },
  'b05-burnham-vandeventer': {
    within: { N: 0, se: 0.0006, p: 0.0006 },
    because: 'N is whole there; the others are printed with three decimals',
  },
  ...Object.fromEntries(
    ['b06', 'b07', 'b08', 'b09', 'b10', 'b11'].map((id, i) => [
      `${id}-zippin-moran-schnute-s${[1, 2, 4, 7, 8, 12][i]}`,
      { within: { N: 0.06, p: 0.0056 }, because: 'N is printed with one decimal, p with two' },
    ]),
  ),
  'b12-zippin-1958': {
    within: { N: 5, p: 0.006 },
    because: 'the worked example was read off a chart and is given from memory',
  },
  'c01-exact-7-10': { within: 1e-7, because: 'printed with seven decimals' },
  'c04-exact-4-20': {
    within: { 0: 1e-9, 1: 5e-9 },
    because: 'the lower limit is printed with nine decimals',
    wider: 'the upper limit is printed with six; the binomial sum in 40 digits gives 0.4366140029966693',
  },
  'c05-exact-4-20-90': { within: 1e-6, because: 'remembered with six decimals' },
  'c06-wilson-newcombe-81-263': { within: 6e-5, because: 'printed with four decimals' },
  'c07-wilson-newcombe-0-20': { within: 6e-5, because: 'printed with four decimals' },
  'f01-kinship2-ped2': { within: 1e-12, because: 'sums of powers of one half' },
  'f02-mrode-2.1-A': { within: 1e-12, because: 'sums of powers of one half' },
  'f03-basic-relationships': { within: 1e-12, because: 'powers of one half' },
  'f04-full-sib-mating': { within: 1e-12, because: 'sums of powers of one half, given in full' },
  'f05-selfing': { within: 1e-12, because: 'sums of powers of one half' },
  'f06-expected-F': { within: 1e-6, because: 'printed with six or seven decimals' },
  'f07-harmonic-ne': { within: { Ne: 0.06 }, because: 'printed with one decimal' },
  'f08-sex-ratio-ne': { within: 1e-6, because: 'given with seven digits' },
  'f09-delta-F': { within: 1e-12, because: 'a closed form: only rounding of the last digit' },
  'f10-bottleneck-H': {
    within: { retained: 1e-12 },
    because: 'a closed form: only rounding of the last digit',
  },
  'd05-pearl-yeast-curve': { within: 0.6, because: 'the coefficients are remembered with four decimals' },
  'd06-closed-form': { within: 1e-4, because: 'given with eight figures' },
  'd07-time-to-level': { within: 1e-4, because: 'given with four decimals' },
  'd19-doubling-time': { within: 0.01, because: 'printed with two or three decimals, r with three' },
  'e01-basic': { within: 1e-6, because: 'a closed form: only rounding of the last digits' },
  'e02-fin-whale': { within: 1e-6, because: 'a closed form: only rounding of the last digits' },
  'e04-constant-quota-equilibria': {
    within: { stable: 0.6, unstable: 0.6 },
    because: 'where growth and harvest balance the number must stay as it is',
    wider:
      'here animals are taken one by one, not in a steady stream: up to one animal lies between two harvests',
  },
  'e07-surplus-from-level': {
    within: 0.002,
    because: 'a slope read off the growth of one day',
    wider:
      'a day is a finite step: the slope changes by 1e-4 of itself meanwhile, and medians have eight figures',
  },
  'g01-zalom-single-sine-dev': { within: 0.0051, because: 'printed with two decimals' },
  'g07-degday-readme': { within: 0.0051, because: 'printed with two decimals' },
  'g08-mcmaster-simple-average': { within: 1e-9, because: 'sums and halves of tenths' },
  'g09-ucipm-average-example': { within: { dd: 1e-9 }, because: 'one whole number less another' },
  'g10-symmetric-sine': {
    within: { dd: 5e-8 },
    because: 'a closed form, 5 / pi',
    wider: 'given with seven decimals of 1.59154943092; the test holds the closed form itself to 1e-12',
  },
  'g22-hourly-linvill-lat40': {
    within: { hours: 0.001 },
    because: 'given with eight decimals; the year and its leap day move the day length by seconds',
  },
  'h02-dmel-two-point-thermal-constant': {
    within: { T0: 1e-4, K: 1e-4 },
    because: 'given with four decimals',
  },
  'i01-fao-ex3': {
    within: { es_min: 0.0006, es_max: 0.0006, es_mean: 0.006 },
    because: 'printed with three decimals, their mean with two',
  },
  'i02-fao-table-2.3': { within: 0.0006, because: 'a table with three decimals' },
  'i03-fao-ex5-ea': {
    within: { es_min: 0.0006, es_max: 0.0006, ea: 0.006 },
    because: 'printed with three decimals, the actual pressure with two',
  },
  'i04-fao-ex5-vpd': { within: { vpd: 0.006 }, because: 'printed with two decimals' },
  'i05-fao-delta': { within: { delta: 0.0006 }, because: 'printed with three decimals' },
  'i06-rh-mean-ea': { within: { ea: 0.006 }, because: 'printed with two decimals' },
  'i07-vpd-simple': { within: 6e-5, because: 'given with four decimals' },
  'j01-incropera-5.1': {
    within: { D: 6e-7, t: 0.04 },
    because: 'printed with three figures, the time rounded up to 5.2 from 5.165',
  },
  'j02-cengel-4.1': { within: { b: 0.0006, t: 0.1 }, because: 'printed with three decimals, the time whole' },
  'j03-cengel-4.2': { within: { hours: 0.05 }, because: 'printed with one decimal' },
  'j04-som-4.2': { within: { tau: 1e-6, t: 0.006 }, because: 'printed with two decimals' },
  'j05-sachdeva-5.2': { within: { t: 0.02 }, because: 'printed with two decimals' },
  'j06-icebox-ncert': { within: { remaining_kg: 0.05 }, because: 'printed with one decimal' },
  'j08-R-from-k': { within: 0.006, because: 'printed with two decimals' },
  'j10-openstax-icebox': {
    within: { W: 0.06, melted_kg: 0.006 },
    because: 'printed with one decimal, the mass with two',
  },
  'j21-latent-heats': { within: { kJ_per_kg: 0.5 }, because: 'text books differ by more than one' },
  'k01-12-2-2': { within: 1e-7, because: 'given with seven decimals of an exact fraction' },
  'k02-one-each': {
    within: { 0: 1e-12, 1: 1e-12, 2: 1e-12, 3: 1e-12, 4: 5.1e-9 },
    because: 'exact fractions in all their decimals',
    wider: 'the last, 511/512 = 0.998046875, is given rounded to eight decimals',
  },
  'k06-impossible': { within: 0, because: 'impossible is exactly 0' },
};
