/** A week of driving in the keys of a scenario's `usage`. Invented. */
export interface Habit {
  readonly about: string;
  readonly trips: readonly HabitTrip[];
  readonly longTrips?: { readonly perMonth: number; readonly km: number };
}

/** A trip as it is written: names of weekdays, times on the wall. */
export interface HabitTrip {
  readonly days: readonly ('mon' | 'tue' | 'wed' | 'thu' | 'fri' | 'sat' | 'sun')[];
  readonly leave: string;
  readonly return: string;
  readonly km: number;
  readonly jitterMin: number;
}

/** The weeks of data/habits.yaml; a test compares the two. */
export const HABITS = {
  'five-day-commuter': {
    about: 'away every workday, 30 km each way',
    trips: [
      { days: ['mon', 'tue', 'wed', 'thu', 'fri'], leave: '07:10', return: '17:15', km: 60, jitterMin: 20 },
      { days: ['sat'], leave: '10:00', return: '13:00', km: 25, jitterMin: 60 },
    ],
    longTrips: { perMonth: 0.5, km: 250 },
  },
  'three-day-commuter': {
    about: 'two days of the week at the desk at home',
    trips: [
      { days: ['mon', 'tue', 'thu'], leave: '07:30', return: '17:00', km: 48, jitterMin: 25 },
      { days: ['wed'], leave: '17:30', return: '19:30', km: 14, jitterMin: 30 },
      { days: ['sat'], leave: '10:00', return: '12:30', km: 22, jitterMin: 60 },
    ],
    longTrips: { perMonth: 1, km: 220 },
  },
  'morning-part-time': {
    about: 'mornings at work, at home from early afternoon on',
    trips: [
      { days: ['mon', 'tue', 'wed', 'thu', 'fri'], leave: '07:40', return: '13:10', km: 28, jitterMin: 15 },
      { days: ['fri'], leave: '15:30', return: '17:30', km: 18, jitterMin: 40 },
    ],
    longTrips: { perMonth: 0.5, km: 180 },
  },
  'desk-at-home': {
    about: 'works at home, errands and an evening out',
    trips: [
      { days: ['tue', 'fri'], leave: '16:30', return: '18:00', km: 16, jitterMin: 45 },
      { days: ['wed'], leave: '18:30', return: '22:00', km: 24, jitterMin: 30 },
      { days: ['sun'], leave: '11:00', return: '16:00', km: 45, jitterMin: 60 },
    ],
    longTrips: { perMonth: 1, km: 260 },
  },
  'school-and-errands': {
    about: 'short trips several times a day',
    trips: [
      { days: ['mon', 'tue', 'wed', 'thu', 'fri'], leave: '07:35', return: '08:20', km: 9, jitterMin: 10 },
      { days: ['mon', 'wed', 'fri'], leave: '12:30', return: '13:15', km: 9, jitterMin: 15 },
      { days: ['tue', 'thu'], leave: '15:45', return: '18:00', km: 17, jitterMin: 20 },
      { days: ['sat'], leave: '09:30', return: '12:00', km: 20, jitterMin: 45 },
    ],
    longTrips: { perMonth: 0.5, km: 200 },
  },
  'early-and-late-shift': {
    about: 'early shifts, late shifts and a night at the end of the week',
    trips: [
      { days: ['mon', 'tue'], leave: '05:15', return: '14:30', km: 44, jitterMin: 10 },
      { days: ['wed', 'thu'], leave: '13:10', return: '22:45', km: 44, jitterMin: 10 },
      { days: ['fri'], leave: '21:15', return: '06:45', km: 44, jitterMin: 10 },
    ],
  },
  retired: {
    about: 'at home most of the day, out by daylight',
    trips: [
      { days: ['mon', 'thu'], leave: '09:30', return: '11:15', km: 15, jitterMin: 45 },
      { days: ['sat'], leave: '14:00', return: '17:30', km: 32, jitterMin: 60 },
    ],
    longTrips: { perMonth: 1, km: 160 },
  },
  'second-car': {
    about: 'little driven, often idle for days',
    trips: [
      { days: ['wed'], leave: '14:30', return: '17:00', km: 18, jitterMin: 45 },
      { days: ['sat'], leave: '09:00', return: '11:30', km: 20, jitterMin: 60 },
    ],
  },
  'weekend-driver': {
    about: 'train to work, the car on Saturday and Sunday',
    trips: [
      { days: ['sat'], leave: '09:00', return: '18:00', km: 75, jitterMin: 75 },
      { days: ['sun'], leave: '10:30', return: '17:00', km: 50, jitterMin: 75 },
    ],
    longTrips: { perMonth: 0.5, km: 300 },
  },
  'field-service': {
    about: 'on the road all day, long ways',
    trips: [{ days: ['mon', 'tue', 'wed', 'thu', 'fri'], leave: '06:45', return: '18:15', km: 130, jitterMin: 40 }],
    longTrips: { perMonth: 0.5, km: 320 },
  },
} as const satisfies Readonly<Record<string, Habit>>;
