/** A moment as a reader names it: the time today, the day before that. @param at milliseconds since 1970 */
export function when(at: number, now = Date.now()): string {
  const day = new Date(at)
  const today = new Date(now).toDateString() === day.toDateString()
  return today
    ? day.toLocaleTimeString(undefined, { hour: '2-digit', minute: '2-digit' })
    : day.toLocaleDateString(undefined, { day: 'numeric', month: 'short', year: 'numeric' })
}
