export * from './cultures.ts';
export * from './estimates.ts';
export * from './orders.ts';
export * from './people.ts';
export * from './records.ts';
export * from './round.ts';
export * from './species.ts';
