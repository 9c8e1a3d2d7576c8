import type { Motions } from '../../core/checks/register/groups.ts'
import { shiftedMap } from '../../core/checks/register/shifted-map.ts'
import { applyChange } from '../../core/material/change.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { flashPicture } from '../../core/reference/flash-picture.ts'
import { loupeAt } from './loupe.ts'
import { read } from './reading.ts'
import { answerSweep } from './sweeping.ts'
import type { Asked, Told } from './workshop.ts'

/** Off the window's thread: tables of the light, and readings of a spot. */
let levels: readonly MaterialMap[] = []
let motions: Motions = {}
/** The levels with their groups of plates moved, made when something is read. */
let slipped: readonly MaterialMap[] | null = null
let tables: readonly Tables[] | null = null

self.onmessage = ({ data }: MessageEvent<Asked>) => {
  try {
    answer(data)
  } catch (error) {
    tell({ id: data.id, error: error instanceof Error ? error.message : String(error) })
  }
}

function answer(asked: Asked): void {
  const { id } = asked
  switch (asked.do) {
    case 'levels':
      levels = asked.levels
      slipped = null
      tell({ id, value: null })
      break
    case 'change':
      levels = applyChange(levels, asked.change)
      slipped = null
      tell({ id, value: null })
      break
    case 'slip':
      motions = asked.motions
      slipped = null
      tell({ id, value: null })
      break
    case 'tables':
      tables = asked.bakings.map(bakeTables)
      tell({ id, value: tables })
      break
    case 'reading':
      tell({ id, value: tables === null ? null : read(asked.scene, lying(), tables, asked.spot) })
      break
    case 'loupe':
      tell({ id, value: loupeAt(asked.scene, ...ground(), asked.spot) })
      break
    case 'flash': {
      const [, sets] = ground()
      tell({ id, value: asked.scenes.map(scene => flashPicture(scene, lying(), sets)) })
      break
    }
    case 'sweep':
    case 'look':
    case 'extremes':
      tell({ id, value: answerSweep(asked, ...ground()) })
      break
  }
}

function lying(): readonly MaterialMap[] {
  slipped ??= levels.map(level => shiftedMap(level, motions))
  return slipped
}

/** Map and tables; whoever asks before they came hears that there are none. */
function ground(): readonly [MaterialMap, readonly Tables[]] {
  const [map] = lying()
  if (map === undefined || tables === null) throw new Error('the map is not built yet')
  return [map, tables]
}

function tell(told: Told): void {
  self.postMessage(told)
}
