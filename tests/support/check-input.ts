import type { Art } from '../../core/art/layer.ts'
import type { CheckInput } from '../../core/checks/input.ts'
import { type Baking, bakeTables, type Tables } from '../../core/optics/bake.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { type PaintPlan, type PaintStack, paintMap } from './paint-map.ts'
import { oneLamp, sceneFor } from './scene.ts'

/** Art without layers, of the size of a painted map. */
export function emptyArt(size: number, sideMm: number): Art {
  return {
    name: 'painted',
    format: 'PSD',
    width: size,
    height: size,
    resolutionPpi: (size * 25.4) / sideMm,
    colorMode: 'CMYK',
    depth: 8,
    layers: [],
    channels: [],
    paths: [],
    profile: null,
    palette: null,
    hasComposite: false,
    findings: [],
  }
}

/** Tables take most of a second, and many tests want the same. */
const kept = new Map<string, Tables>()
function baked(baking: Baking): Tables {
  const key = JSON.stringify(baking)
  const tables = kept.get(key) ?? bakeTables(baking)
  kept.set(key, tables)
  return tables
}

/** What checks read, of a painted map under one lamp at 45°; what a test names replaces its part. */
export function checkInput(
  plan: PaintPlan,
  paint: (x: number, y: number) => PaintStack,
  change: Partial<CheckInput> = {},
): CheckInput {
  const map = paintMap(plan, paint)
  const scene =
    change.scene ?? sceneFor(oneLamp({ azimuthDeg: 90, elevationDeg: 45, distanceMm: 500, diameterMm: 20 }))
  return {
    art: emptyArt(plan.size, plan.sideMm),
    file: null,
    assigned: [],
    map,
    scene,
    sets: change.sets ?? bakingsOf(scene, map).map(baked),
    blank: null,
    corners: new Map(),
    limits: {},
    ...change,
  }
}
