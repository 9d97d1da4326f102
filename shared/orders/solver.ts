import loaded, { type Highs } from 'highs';

/** A linear problem in whole and real numbers. */
export interface Problem {
  readonly maximise: boolean;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
}

export interface Column {
  readonly cost: number;
  readonly lower: number;
  readonly upper: number;
  readonly whole: boolean;
}

/** lower <= sum of coefficient x column <= upper. */
export interface Row {
  readonly lower: number;
  readonly upper: number;
  readonly terms: readonly (readonly [column: number, coefficient: number])[];
}

export interface Solved {
  /** The best values found; null where there are none, or none were found in time. */
  readonly values: Float64Array | null;
  /** No values can be better than this. */
  readonly bound: number;
  /** Whether nothing better is left to be found; without values, that there are none. */
  readonly proved: boolean;
  /** Of the solver's own clock. */
  readonly seconds: number;
}

// Its types tell of a CommonJS module, where Node takes the one for import: the loader itself.
const load = loaded as unknown as (typeof loaded)['default'];

let loading: Promise<Highs> | undefined;

/**
 * The solver, loaded once. It reads its WebAssembly from its own package; nothing else of it touches the world.
 */
export async function loadSolver(): Promise<Highs> {
  loading ??= load();
  return loading;
}

/** A solver that has broken down is not used again. */
export function forgetSolver(): void {
  loading = undefined;
}

/**
 * Solves a problem by branch and cut (HiGHS: Huangfu and Hall 2018) within some seconds, from an allowed start
 * where there is one. The same problem gives the same values, unless the time ends it.
 */
export function solve(
  highs: Highs,
  problem: Problem,
  start: readonly number[] | null,
  seconds: number,
): Solved {
  const { modelStatus: status, solutionStatus } = highs.constants;
  return highs.withModel(modelOf(highs, problem), (model): Solved => {
    model.options.set({
      output_flag: false,
      time_limit: seconds,
      mip_rel_gap: 0,
      mip_feasibility_tolerance: 1e-9,
      primal_feasibility_tolerance: 1e-9,
    });
    if (start) model.setSolution({ colValue: start });
    const { modelStatus } = model.run();
    const found = model.info.get('primal_solution_status') === solutionStatus.feasible;
    return {
      values: found ? model.getSolution().colValue : null,
      bound: Number(model.info.get('mip_dual_bound')),
      proved: modelStatus === status.optimal || modelStatus === status.infeasible,
      seconds: model.getRunTime(),
    };
  });
}

function modelOf(highs: Highs, { maximise, columns, rows }: Problem) {
  const starts = [0];
  for (const { terms } of rows) starts.push(starts.at(-1)! + terms.length);
  const { objectiveSense, variableType } = highs.constants;
  return {
    numCols: columns.length,
    numRows: rows.length,
    sense: maximise ? objectiveSense.maximize : objectiveSense.minimize,
    colCost: columns.map(({ cost }) => cost),
    colLower: columns.map(({ lower }) => lower),
    colUpper: columns.map(({ upper }) => upper),
    rowLower: rows.map(({ lower }) => lower),
    rowUpper: rows.map(({ upper }) => upper),
    matrix: {
      format: 'csr' as const,
      numRows: rows.length,
      numCols: columns.length,
      starts,
      indices: rows.flatMap(({ terms }) => terms.map(([column]) => column)),
      values: rows.flatMap(({ terms }) => terms.map(([, coefficient]) => coefficient)),
    },
    integrality: columns.map(({ whole }) => (whole ? variableType.integer : variableType.continuous)),
  };
}
