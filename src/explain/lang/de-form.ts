import { formOf } from './form.ts';

const two = (n: number): string => String(n).padStart(2, '0');

/** Numbers, dates and lists in German. */
export const DE_FORM = formOf({
  decimal: ',',
  thousands: '.',
  and: 'und',
  seconds: 's',
  minutes: 'min',
  hours: 'h',
  counts: ['keine', 'eine', 'zwei', 'drei'],
  phase: 'Phase',
  phases: 'Phasen',
  compass: ['Norden', 'Nordosten', 'Osten', 'Südosten', 'Süden', 'Südwesten', 'Westen', 'Nordwesten'],
  weekdays: ['Montag', 'Dienstag', 'Mittwoch', 'Donnerstag', 'Freitag', 'Samstag', 'Sonntag'],
  shortWeekdays: ['Mo', 'Di', 'Mi', 'Do', 'Fr', 'Sa', 'So'],
  shortMonths: ['Jan', 'Feb', 'Mär', 'Apr', 'Mai', 'Jun', 'Jul', 'Aug', 'Sep', 'Okt', 'Nov', 'Dez'],
  date: ({ year, month, day }) => `${two(day)}.${two(month)}.${year}`,
});
