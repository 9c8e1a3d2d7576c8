/** A room around the lamps, by how bright its brightest part is. */
export interface Room {
  readonly name: string
  /** In paper white under all lamps. */
  readonly roomLevel: number
  readonly says: string
}

/** Levels: common practice, no source; those of the rigs of the same name. */
export const rooms: readonly Room[] = [
  { name: 'Blacked out', roomLevel: 0, says: 'Nothing but the lamps: the deepest blacks of bare foil' },
  { name: 'Evening, one lamp', roomLevel: 0.05, says: 'Dark walls, the lamp the only bright thing' },
  { name: 'Office or home', roomLevel: 0.15, says: 'Light walls and a ceiling' },
  { name: 'Shop', roomLevel: 0.25, says: 'Bright ceiling, shelves all round' },
  { name: 'Viewing booth', roomLevel: 0.3, says: 'Grey walls that are lit as the print is' },
  { name: 'By a window', roomLevel: 0.35, says: 'An overcast sky fills half the room' },
]

/** Index of the room that a level is that of; null for one of the user's own. */
export function roomOf(roomLevel: number): number | null {
  const found = rooms.findIndex(room => Math.abs(room.roomLevel - roomLevel) < 0.005)
  return found < 0 ? null : found
}
