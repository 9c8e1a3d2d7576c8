import type { OpenArea } from './pictures.ts'

/** What was met in one tile of the map while its areas were painted. */
interface TileNote {
  /** Ids of areas that put a grating there. */
  readonly seen: Set<number>
  /** Pixels that two areas share, by the lower area's id and then the upper one's. */
  readonly pairs: Map<number, Map<number, number>>
  /** Pixels at which more areas met than a map holds. */
  crowded: number
  /** Most gratings at a pixel. */
  slots: number
}

/** The gratings that an area asks for, before others are laid over it. */
interface AreaNote {
  /** Finest pitch, nm. */
  finest: number
  /** Widest pitch, nm, and the deepest groove that has it, nm. */
  coarsest: number
  depth: number
}

export interface Overlap {
  readonly under: OpenArea
  readonly upper: OpenArea
  readonly pixels: number
}

/** What findings about holography come from, kept by tile and by area so that a part of it can be replaced. */
export class AreaNotes {
  readonly #tiles = new Map<number, TileNote>()
  readonly #areas = new Map<number, AreaNote>()

  /** The note of a tile, by its number, to be written on. */
  tile(number: number): TileNote {
    let note = this.#tiles.get(number)
    if (note === undefined) {
      note = { seen: new Set(), pairs: new Map(), crowded: 0, slots: 0 }
      this.#tiles.set(number, note)
    }
    return note
  }

  /** @param pitch nm @param depth nm */
  grating(areaId: number, finest: number, coarsest: number, depth: number): void {
    const note = this.#areas.get(areaId)
    if (note === undefined) {
      this.#areas.set(areaId, { finest, coarsest, depth })
      return
    }
    note.finest = Math.min(note.finest, finest)
    if (coarsest < note.coarsest || (coarsest === note.coarsest && depth <= note.depth)) return
    note.coarsest = coarsest
    note.depth = depth
  }

  area(id: number): Readonly<AreaNote> | undefined {
    return this.#areas.get(id)
  }

  /** Most gratings at a pixel of the map. */
  get slots(): number {
    return Math.max(0, ...[...this.#tiles.values()].map(tile => tile.slots))
  }

  get crowded(): number {
    let sum = 0
    for (const tile of this.#tiles.values()) sum += tile.crowded
    return sum
  }

  seen(areaId: number): boolean {
    for (const tile of this.#tiles.values()) if (tile.seen.has(areaId)) return true
    return false
  }

  /** Which areas lie over one another, the largest part first. */
  overlaps(areas: readonly OpenArea[]): readonly Overlap[] {
    const sums = new Map<number, Map<number, number>>()
    for (const { pairs } of this.#tiles.values())
      for (const [under, uppers] of pairs)
        for (const [upper, pixels] of uppers) addPair(sums, under, upper, pixels)
    const byId = new Map(areas.map(area => [area.id, area]))
    return [...sums]
      .flatMap(([under, uppers]) =>
        [...uppers].map(([upper, pixels]) => ({ under: byId.get(under)!, upper: byId.get(upper)!, pixels })),
      )
      .sort((a, b) => b.pixels - a.pixels || a.under.id - b.under.id || a.upper.id - b.upper.id)
  }

  /**
   * These notes after a part of the map was painted anew.
   * @param anew what was noted then
   * @param tiles that were painted
   * @param areas ids of those that were laid whole then, or are no more
   */
  replaced(anew: AreaNotes, tiles: readonly number[], areas: ReadonlySet<number>): AreaNotes {
    const out = new AreaNotes()
    for (const [number, note] of this.#tiles) out.#tiles.set(number, note)
    for (const number of tiles) {
      const note = anew.#tiles.get(number)
      if (note === undefined) out.#tiles.delete(number)
      else out.#tiles.set(number, note)
    }
    for (const [id, note] of this.#areas) if (!areas.has(id)) out.#areas.set(id, note)
    for (const [id, note] of anew.#areas) if (areas.has(id)) out.#areas.set(id, note)
    return out
  }
}

/** Counts pixels that two areas share. */
export function addPair(
  pairs: Map<number, Map<number, number>>,
  under: number,
  upper: number,
  pixels: number,
): void {
  const uppers = pairs.get(under) ?? new Map<number, number>()
  pairs.set(under, uppers)
  uppers.set(upper, (uppers.get(upper) ?? 0) + pixels)
}
