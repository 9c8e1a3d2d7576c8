import { mostViews } from '../effects/view-image.ts'
import type { Tables } from '../optics/tables.ts'
import { RoomCell } from './room-cell.ts'
import { filterSize, nodeSize, type RoomGrid, type RoomNode, roomNode } from './room-node.ts'
import { gratingLimit, type Site } from './site.ts'

/** Nodes of the eye's direction along and across the grating vector, a unit. */
const fineness = 64
const side = 2 * fineness + 1
/** Pitches this close, relative, are one: directions then move by less than 0.0025. */
const pitchStep = 0.0025
/** Numbers that are kept; beyond it all are made anew. Some 43 MB. */
const mostKept = 5_400_000

/**
 * What orders gather from a room, by grating and direction of the eye: straight between nodes. Kept with the tables, made
 * when first asked for.
 */
export class RoomOrders {
  readonly #tables: Tables
  readonly #grids = new Map<number, RoomGrid>()
  /** The cell where each grating of a place was looked up last: neighbours mostly need the same. */
  readonly #cells: readonly RoomCell[]
  #kept = 0

  constructor(tables: Tables) {
    this.#tables = tables
    this.#cells = Array.from({ length: gratingLimit + mostViews }, () => new RoomCell())
  }

  /** The cell of grating `i` of the site, set to the direction of its eye. */
  around(site: Site, i: number): RoomCell {
    const cell = this.#cells[i]!
    this.#kept += cell.takeNewFilters() * filterSize
    if (this.#kept > mostKept) this.#forget()
    const pitch = site.pitch[i]!
    const depth = site.grooveDepth[i]!
    const groove = site.groove[i]!
    if (pitch < cell.pitchFrom || pitch >= cell.pitchTo || depth !== cell.depth || groove !== cell.groove)
      this.#open(cell, groove, depth, pitch)
    const gx = site.directionX[i]!
    const gy = site.directionY[i]!
    const eyeW = site.eyeY * gx - site.eyeX * gy
    const x = (site.eyeX * gx + site.eyeY * gy + 1) * fineness
    // The sums are the same on either side of the grating vector.
    const y = Math.abs(eyeW) * fineness
    const column = Math.min(x | 0, side - 2)
    const row = Math.min(y | 0, fineness - 1)
    if (column !== cell.column || row !== cell.row) this.#move(cell, column, row)
    cell.setPlace(x - column, y - row)
    return cell
  }

  #move(cell: RoomCell, column: number, row: number): void {
    cell.column = column
    cell.row = row
    cell.setNodes(
      this.#node(cell, column, row),
      this.#node(cell, column + 1, row),
      this.#node(cell, column, row + 1),
      this.#node(cell, column + 1, row + 1),
    )
  }

  #open(cell: RoomCell, groove: number, depth: number, pitch: number): void {
    const step = Math.round(Math.log(pitch / 100) / pitchStep)
    cell.groove = groove
    cell.depth = depth
    cell.pitch = pitchAt(step)
    cell.pitchFrom = pitchAt(step - 0.5)
    cell.pitchTo = pitchAt(step + 0.5)
    cell.column = -1
    const key = (step * 256 + Math.round(depth)) * 64 + groove
    let grid = this.#grids.get(key)
    if (grid === undefined) {
      grid = []
      this.#grids.set(key, grid)
    }
    cell.grid = grid
  }

  #node({ grid, groove, depth, pitch }: RoomCell, column: number, row: number): RoomNode {
    const at = row * side + column
    const known = grid[at]
    if (known !== undefined) return known
    const node = roomNode(this.#tables, groove, depth, pitch, column / fineness - 1, row / fineness)
    grid[at] = node
    this.#kept += nodeSize
    return node
  }

  #forget(): void {
    this.#grids.clear()
    this.#kept = 0
    for (const cell of this.#cells) cell.depth = -1
  }
}

const pitchAt = (step: number): number => 100 * Math.exp(step * pitchStep)

const kept = new WeakMap<Tables, RoomOrders>()
let lastTables: Tables | null = null
let lastOrders: RoomOrders | null = null

/** Lets go of what was kept with these tables: tens of megabytes, for whoever holds tables but makes no pictures for a while. */
export function dropRoomOrders(tables: Tables): void {
  kept.delete(tables)
  if (lastTables !== tables) return
  lastTables = null
  lastOrders = null
}

export function roomOrders(tables: Tables): RoomOrders {
  if (lastOrders !== null && lastTables === tables) return lastOrders
  let orders = kept.get(tables)
  if (orders === undefined) {
    orders = new RoomOrders(tables)
    kept.set(tables, orders)
  }
  lastTables = tables
  lastOrders = orders
  return orders
}
