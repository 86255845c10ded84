import { formOf } from './form.ts';

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** Numbers, dates and lists in English. */
export const EN_FORM = formOf({
  decimal: '.',
  thousands: ',',
  and: 'and',
  seconds: 's',
  minutes: 'min',
  hours: 'h',
  counts: ['no', 'one', 'two', 'three'],
  phase: 'phase',
  phases: 'phases',
  compass: ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'],
  weekdays: ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'],
  shortWeekdays: ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'],
  shortMonths: MONTHS.map((month) => month.slice(0, 3)),
  date: ({ year, month, day }) => `${day} ${MONTHS[month - 1] ?? ''} ${year}`,
});
