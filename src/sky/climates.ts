/** The climate of a place in an average year, in the keys of a scenario's synthetic weather. From memory, rounded. */
export interface NamedClimate {
  readonly latitude: number;
  readonly longitude: number;
  readonly elevationM: number;
  /** January to December. */
  readonly monthlyGhiKWhM2: readonly number[];
  readonly monthlyTempC: readonly number[];
}

/** The places of data/climates.yaml; a test compares the two. */
export const CLIMATES = {
  amsterdam: {
    latitude: 52.37,
    longitude: 4.9,
    elevationM: 0,
    monthlyGhiKWhM2: [20, 36, 78, 123, 155, 158, 157, 135, 90, 52, 24, 15],
    monthlyTempC: [4, 4, 6, 9, 13, 16, 18, 18, 15, 11, 7, 5],
  },
  athens: {
    latitude: 37.98,
    longitude: 23.73,
    elevationM: 100,
    monthlyGhiKWhM2: [66, 82, 128, 165, 200, 220, 225, 202, 158, 108, 71, 57],
    monthlyTempC: [10, 11, 13, 16, 21, 26, 29, 29, 25, 20, 15, 11],
  },
  berlin: {
    latitude: 52.52,
    longitude: 13.4,
    elevationM: 40,
    monthlyGhiKWhM2: [20, 36, 78, 125, 157, 162, 160, 138, 92, 52, 23, 15],
    monthlyTempC: [1, 2, 5, 10, 15, 18, 20, 20, 15, 10, 5, 2],
  },
  brussels: {
    latitude: 50.85,
    longitude: 4.35,
    elevationM: 50,
    monthlyGhiKWhM2: [21, 37, 78, 120, 150, 153, 155, 133, 93, 55, 26, 17],
    monthlyTempC: [4, 4, 7, 10, 14, 17, 19, 18, 15, 11, 7, 4],
  },
  bucharest: {
    latitude: 44.43,
    longitude: 26.1,
    elevationM: 80,
    monthlyGhiKWhM2: [42, 62, 108, 145, 185, 200, 210, 185, 135, 88, 48, 36],
    monthlyTempC: [-1, 1, 7, 12, 18, 22, 24, 24, 18, 12, 6, 1],
  },
  budapest: {
    latitude: 47.5,
    longitude: 19.04,
    elevationM: 130,
    monthlyGhiKWhM2: [33, 53, 98, 142, 175, 182, 190, 168, 118, 76, 37, 26],
    monthlyTempC: [1, 3, 7, 13, 18, 21, 23, 23, 18, 12, 7, 2],
  },
  copenhagen: {
    latitude: 55.68,
    longitude: 12.57,
    elevationM: 10,
    monthlyGhiKWhM2: [16, 32, 75, 120, 162, 165, 162, 132, 85, 45, 19, 11],
    monthlyTempC: [2, 2, 4, 8, 12, 16, 19, 18, 15, 10, 6, 3],
  },
  dublin: {
    latitude: 53.35,
    longitude: -6.26,
    elevationM: 20,
    monthlyGhiKWhM2: [18, 33, 70, 112, 148, 145, 140, 115, 80, 46, 22, 13],
    monthlyTempC: [5, 5, 7, 8, 11, 14, 16, 15, 13, 11, 8, 6],
  },
  edinburgh: {
    latitude: 55.95,
    longitude: -3.19,
    elevationM: 50,
    monthlyGhiKWhM2: [13, 28, 65, 105, 142, 142, 138, 112, 75, 40, 17, 9],
    monthlyTempC: [4, 5, 6, 8, 11, 13, 15, 15, 13, 10, 7, 4],
  },
  frankfurt: {
    latitude: 50.11,
    longitude: 8.68,
    elevationM: 110,
    monthlyGhiKWhM2: [23, 42, 83, 127, 155, 162, 166, 142, 97, 56, 26, 18],
    monthlyTempC: [2, 3, 7, 11, 15, 19, 20, 20, 15, 11, 6, 3],
  },
  hamburg: {
    latitude: 53.55,
    longitude: 9.99,
    elevationM: 10,
    monthlyGhiKWhM2: [18, 33, 72, 118, 150, 152, 150, 128, 84, 47, 21, 13],
    monthlyTempC: [2, 2, 5, 9, 13, 16, 18, 18, 14, 10, 6, 3],
  },
  helsinki: {
    latitude: 60.17,
    longitude: 24.94,
    elevationM: 20,
    monthlyGhiKWhM2: [8, 24, 65, 110, 165, 170, 170, 125, 72, 30, 9, 4],
    monthlyTempC: [-3, -4, -1, 4, 10, 15, 18, 17, 12, 7, 2, -1],
  },
  innsbruck: {
    latitude: 47.27,
    longitude: 11.39,
    elevationM: 580,
    monthlyGhiKWhM2: [42, 62, 108, 135, 155, 158, 165, 145, 112, 78, 45, 34],
    monthlyTempC: [-1, 1, 6, 10, 15, 18, 19, 19, 15, 10, 4, -1],
  },
  lisbon: {
    latitude: 38.72,
    longitude: -9.14,
    elevationM: 80,
    monthlyGhiKWhM2: [68, 86, 136, 172, 208, 222, 232, 210, 160, 112, 74, 60],
    monthlyTempC: [12, 12, 14, 16, 18, 21, 23, 24, 22, 19, 15, 12],
  },
  london: {
    latitude: 51.51,
    longitude: -0.13,
    elevationM: 20,
    monthlyGhiKWhM2: [21, 36, 75, 115, 148, 155, 155, 130, 90, 52, 26, 16],
    monthlyTempC: [5, 6, 8, 10, 14, 17, 19, 19, 16, 12, 8, 6],
  },
  lyon: {
    latitude: 45.76,
    longitude: 4.84,
    elevationM: 170,
    monthlyGhiKWhM2: [38, 58, 105, 140, 170, 188, 198, 170, 125, 75, 42, 32],
    monthlyTempC: [4, 5, 9, 12, 16, 20, 23, 22, 18, 14, 8, 5],
  },
  madrid: {
    latitude: 40.42,
    longitude: -3.7,
    elevationM: 660,
    monthlyGhiKWhM2: [66, 85, 137, 165, 200, 222, 235, 205, 155, 106, 70, 57],
    monthlyTempC: [6, 8, 11, 13, 18, 23, 26, 26, 21, 15, 10, 7],
  },
  marseille: {
    latitude: 43.3,
    longitude: 5.37,
    elevationM: 20,
    monthlyGhiKWhM2: [60, 80, 132, 165, 200, 220, 230, 197, 148, 97, 64, 51],
    monthlyTempC: [8, 8, 11, 14, 18, 22, 25, 25, 21, 17, 12, 9],
  },
  milan: {
    latitude: 45.46,
    longitude: 9.19,
    elevationM: 120,
    monthlyGhiKWhM2: [42, 64, 112, 142, 175, 190, 200, 170, 122, 73, 42, 35],
    monthlyTempC: [4, 6, 10, 14, 19, 23, 25, 25, 20, 15, 9, 4],
  },
  munich: {
    latitude: 48.14,
    longitude: 11.58,
    elevationM: 520,
    monthlyGhiKWhM2: [32, 51, 92, 130, 155, 160, 170, 146, 105, 66, 35, 26],
    monthlyTempC: [0, 1, 5, 9, 14, 17, 19, 19, 14, 9, 4, 1],
  },
  oslo: {
    latitude: 59.91,
    longitude: 10.75,
    elevationM: 50,
    monthlyGhiKWhM2: [9, 25, 65, 105, 150, 160, 152, 115, 70, 32, 11, 5],
    monthlyTempC: [-3, -2, 1, 6, 12, 16, 18, 17, 12, 6, 1, -2],
  },
  paris: {
    latitude: 48.86,
    longitude: 2.35,
    elevationM: 40,
    monthlyGhiKWhM2: [28, 46, 90, 130, 158, 168, 172, 150, 110, 65, 32, 23],
    monthlyTempC: [5, 6, 9, 12, 16, 19, 21, 21, 17, 13, 8, 5],
  },
  prague: {
    latitude: 50.08,
    longitude: 14.44,
    elevationM: 250,
    monthlyGhiKWhM2: [25, 43, 85, 128, 158, 162, 165, 145, 98, 58, 27, 19],
    monthlyTempC: [0, 1, 5, 10, 14, 18, 20, 20, 15, 10, 4, 1],
  },
  rome: {
    latitude: 41.9,
    longitude: 12.5,
    elevationM: 20,
    monthlyGhiKWhM2: [55, 75, 122, 152, 190, 208, 220, 192, 142, 98, 60, 48],
    monthlyTempC: [8, 9, 11, 14, 18, 23, 25, 25, 22, 17, 13, 9],
  },
  seville: {
    latitude: 37.39,
    longitude: -5.99,
    elevationM: 10,
    monthlyGhiKWhM2: [82, 100, 148, 178, 215, 232, 242, 215, 163, 120, 86, 72],
    monthlyTempC: [11, 12, 15, 17, 21, 25, 28, 28, 25, 20, 15, 12],
  },
  stockholm: {
    latitude: 59.33,
    longitude: 18.07,
    elevationM: 20,
    monthlyGhiKWhM2: [10, 25, 65, 110, 160, 170, 165, 125, 75, 35, 12, 6],
    monthlyTempC: [-1, -1, 2, 7, 12, 16, 19, 18, 13, 8, 4, 1],
  },
  vienna: {
    latitude: 48.21,
    longitude: 16.37,
    elevationM: 170,
    monthlyGhiKWhM2: [28, 46, 86, 124, 157, 162, 171, 151, 100, 61, 30, 21],
    monthlyTempC: [1, 3, 7, 12, 16, 20, 22, 21, 16, 11, 6, 2],
  },
  warsaw: {
    latitude: 52.23,
    longitude: 21.01,
    elevationM: 110,
    monthlyGhiKWhM2: [20, 35, 78, 118, 158, 163, 163, 142, 90, 50, 21, 14],
    monthlyTempC: [-1, 0, 4, 9, 14, 18, 20, 19, 14, 9, 4, 0],
  },
  zagreb: {
    latitude: 45.81,
    longitude: 15.98,
    elevationM: 130,
    monthlyGhiKWhM2: [33, 55, 98, 135, 168, 178, 188, 163, 112, 72, 37, 26],
    monthlyTempC: [2, 3, 8, 12, 17, 21, 22, 22, 17, 12, 7, 2],
  },
  zurich: {
    latitude: 47.37,
    longitude: 8.54,
    elevationM: 430,
    monthlyGhiKWhM2: [32, 52, 93, 127, 150, 160, 170, 145, 105, 62, 34, 25],
    monthlyTempC: [1, 2, 6, 10, 14, 18, 20, 19, 15, 10, 5, 2],
  },
} as const satisfies Readonly<Record<string, NamedClimate>>;

/** Names of the climates. */
export const CLIMATE_NAMES: readonly string[] = Object.keys(CLIMATES);
