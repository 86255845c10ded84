/** A time of day on a 24-hour clock, from seconds since midnight. */
export function clockOfDay(secondOfDay: number): string {
  const minutes = Math.floor(secondOfDay / 60) % (24 * 60);
  return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
}
