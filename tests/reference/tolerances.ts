/**
 * How far we may be from the outside truth, in the quantity's own unit. One table; values only tighten.
 * The names are those of the rows in the reference tests.
 */
export const TOLERANCE = {
  /** Low-precision Meeus against SPA, degrees. */
  sunZenithDeg: 0.012,
  sunAzimuthDeg: 0.015,
  apparentZenithDeg: 0.015,
  refractionDeg: 1e-4,
  incidenceDeg: 1e-3,
  solsticeZenithDeg: 0.006,
  dayLengthH: 0.006,
  /** Against a second library, above 5 degrees of altitude. */
  sunAltitudeMeanDeg: 0.01,
  sunAltitudeMaxDeg: 0.05,
  /** Track (hourly knots) against the direct call. */
  sunTrackDeg: 0.001,
  /** Printed to the whole minute; to the second. */
  riseSetMinuteS: 30,
  riseSetS: 5,
  noonS: 1,
  equationOfTimeMin: 0.03,
  /** Our sun at the book's declination and hour; its angles of incidence are printed to the degree. */
  textbookDeg: 0.2,
  textbookIncidenceDeg: 0.3,
  /** The book's equation of time is Spencer's, up to 0.4 minutes from the true one. */
  textbookMin: 0.4,
  textbookRatio: 0.01,
  distanceAu: 5e-5,
  extraterrestrialWPerM2: 0.2,
  extraterrestrialSpencerWPerM2: 1,
  /** A day outside the atmosphere: the book's example, and its table, whose February is 0.28 off its own formula. */
  dailyExtraterrestrialMJ: 0.08,
  dailyExtraterrestrialTableMJ: 0.3,
  monthExtraterrestrialShare: 0.01,
  airMassShare: 1e-4,
  absoluteAirMass: 1e-3,
  pressureShare: 5e-5,
  clearSkyWPerM2: 1e-3,
  haurwitzRecomputedWPerM2: 0.01,
  clearSkyRecomputedWPerM2: 0.06,
  clearDayShare: 0.01,
  erbsShare: 1e-4,
  erbsSplitShare: 2e-4,
  monthlyDiffuseShare: 2e-3,
  closureWPerM2: 1e-6,
  beamWPerM2: 1e-4,
  cosIncidence: 1e-6,
  planeWPerM2: 1e-3,
  isotropicWPerM2: 1e-4,
  isotropicOneWPerM2: 1e-5,
  groundWPerM2: 1e-5,
  groundRecomputedWPerM2: 5e-5,
  perezClearness: 1e-3,
  perezFactor: 1e-5,
  textbookMJ: 0.01,
  textbookMonthMJ: 0.06,
  passingShare: 1e-6,
  passingShareRecomputed: 1e-5,
  passingShareAsPrinted: 1e-10,
  cellC: 1e-3,
  roofShare: 0.025,
  exact: 1e-9,
  inverterW: 1e-6,
  inverterShare: 1e-4,
  lossPercent: 1e-4,
  coefficientSum: 1e-9,
  profileDayKWh: 1e-3,
  profileW: 0.06,
  profileSharePoints: 0.05,
  profileYearShare: 0.001,
  dynamicFactor: 1e-4,
  dynamicRatio: 5e-4,
  /** 200 homes against the mean of many; at least so much, the others at most. */
  householdCorrelation: 0.97,
  householdSharePoints: 4.5,
  householdDayShare: 0.08,
  householdYearShare: 0.2,
  /** Beyond the least and the most of three homes on one day. */
  homesShare: 0.16,
  /** Hourly against one-minute self-consumption, published on average 8 % for three homes; points of percent around it. */
  resolutionPercent: 2.5,
  chargingLossPercent: 0.1,
  /** Printed to the percent. */
  chargingLossRoundedPercent: 0.6,
  /** Charging from clouds by the minute against real minutes, a month, mean of ten seeds. Switches in percent from 30 on, else in their number. */
  cloudsEnergyPercent: 2,
  cloudsHoursPercent: 3,
  cloudsStartsPercent: 15,
  cloudsSwitchesPercent: 20,
  cloudsSwitches: 5,
  /** Lower hump of the index over the dip between the two on mixed days, at least. */
  cloudsHumps: 1.15,
  ksDistance: 0.08,
  rampShare: 0.2,
  spellsShare: 0.2,
} as const;
