/**
 * The public library: a household's scenario in, its solar charging hours out.
 *
 * readScenario(text) -> filesOf(input) -> completeScenario(input, files, zone)   the door: one checked Scenario, or every mistake in it
 * makeProfiles(scenario)                                                          sun, roof and house, a mean for every step
 * simulate(scenario, profiles)                                                    the control law, step by step: columns, events, ledger
 * meaningOf(scenario)                                                             what it means, in words
 *
 * The models stand under their folder's name: sky, pv, house, vehicle, charging.
 */
export * from './base/index.ts';
export * as charging from './charging/index.ts';
export * as commissioning from './commissioning/index.ts';
export * from './explain/index.ts';
export * as house from './house/index.ts';
export * as pv from './pv/index.ts';
export * from './scenario/index.ts';
export * from './simulate/index.ts';
export * as sky from './sky/index.ts';
export * from './study/index.ts';
export * as vehicle from './vehicle/index.ts';
