import { blankArt } from '../../core/art/blank.ts'
import { glareCheck } from '../../core/checks/glare/glare.ts'
import { Keeper } from '../../core/checks/keeper.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { dropRoomOrders } from '../../core/reference/room-orders.ts'
import type { GlareCrafts } from '../glare-thread.ts'
import { heldBytes } from '../held-bytes.ts'
import { mostSets } from '../kept-tables.ts'
import { serveWork } from '../worker-side.ts'

const keeper = new Keeper()

/** The check reads the map alone. */
const { art } = blankArt({ widthMm: 1, heightMm: 1, whitePart: 0 })

/** Tables by the numbers that they came with; asked for last, last. */
const known = new Map<number, Tables>()

serveWork<GlareCrafts>({
  async glare({ map, scene, limits, sets }, task) {
    const own = sets.map(({ id, tables }) => {
      const kept = known.get(id) ?? tables
      known.delete(id)
      known.set(id, kept)
      return kept
    })
    for (const id of [...known.keys()].slice(0, -mostSets)) known.delete(id)
    const input = keeper.open({
      ...{ art, file: null, assigned: [], blank: null, corners: new Map() },
      ...{ map, scene, limits, sets: own },
    })
    try {
      return { value: await glareCheck.run(input, task) }
    } finally {
      for (const tables of own) dropRoomOrders(tables)
    }
  },
  async held() {
    return { value: await heldBytes() }
  },
})
