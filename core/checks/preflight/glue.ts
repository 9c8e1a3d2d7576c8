import type { Task } from '../../base/task.ts'
import type { Outline } from '../../carton/die.ts'
import { inside } from '../../reference/solid.ts'
import { artCoverage } from '../art-coverage.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { onArt } from '../on-art.ts'
import { anyInk, anyWhite, bytesOf } from '../plane-bytes.ts'
import { layersOf } from '../printed.ts'
import { SpotArea } from '../spot-area.ts'
import { forPixels } from '../white/guarded.ts'
import { mm2 } from '../words.ts'
import { found, limitOf, measured } from './found.ts'

/** From here on something is there, 0..255: about 2 % of a coat, half of the metal. */
export const coated = 6
const metallic = 128

/** What lies where glue should hold: ink, white, varnish, and film as the board's making allows. */
export async function glueFindings(input: CheckInput, task?: Task): Promise<readonly CheckFinding[]> {
  const { map } = input
  const limit = limitOf(input)('preflight.leastArea')
  const zones = await glueZones(input, task)
  if (zones.length === 0) return []
  const laminated = input.scene.board.build === 'laminated'
  const coats = [
    { what: 'ink', code: 'ink-on-glue', data: anyInk(map), from: coated },
    { what: 'white', code: 'white-on-glue', data: anyWhite(map), from: coated },
    { what: 'varnish', code: 'varnish-on-glue', data: bytesOf(map, map.varnish), from: coated },
    { what: laminated ? 'film' : 'metal', code: 'film-on-glue', data: bytesOf(map, 'metal'), from: metallic },
  ]
  return zones.flatMap(({ name, within }) =>
    coats.flatMap(({ what, code, data, from }) => {
      const area = new SpotArea(map)
      if (data !== null)
        for (let y = 0, i = 0; y < map.height; y++)
          for (let x = 0; x < map.width; x++, i++) if (within[i] === 1 && data[i]! >= from) area.add(x, y)
      if (area.mm2 <= limit.value) return []
      const usual = code === 'film-on-glue' && laminated
      return [
        found({
          severity: usual ? 'note' : 'error',
          code,
          of: name,
          where: name,
          message: usual
            ? `${mm2(area.mm2)} of it are film, as laminated board has everywhere: glue for board does not hold on it by itself`
            : `${mm2(area.mm2)} of it carry ${what}: glue may not hold there`,
          fix: usual
            ? 'Agree with the finisher on a glue for film, or have the film perforated or left out there; try it on the real build.'
            : code === 'film-on-glue'
              ? 'Leave the metal out of the glue zone, or agree with the finisher how it is glued.'
              : `Knock the ${what} out of the glue zone.`,
          box: area.box,
          measured: measured(area.mm2, 'mm²', 1),
          limit,
        }),
      ]
    }),
  )
}

interface Zone {
  readonly name: string
  /** 1 = of it, one byte a pixel of the map. */
  readonly within: Uint8Array
}

/** Where the die or the art says that glue goes. */
export async function glueZones(input: CheckInput, task?: Task): Promise<readonly Zone[]> {
  const { map, file, blank } = input
  const drawn = (blank?.die.glue ?? []).flatMap((outline, i) =>
    onArt(input, outline).map(({ panel, zone }) => ({
      name: `glue zone ${i + 1} on panel "${panel}"`,
      within: filled(map, zone),
    })),
  )
  if (file === null) return drawn
  const layers = layersOf(input, ['glueZone'])
  const painted: Zone[] = []
  for (const layer of layers) {
    const coverage = await artCoverage(file, [layer], map, task)
    painted.push({ name: `glue zone "${layer.name}"`, within: coverage.map(one => (one >= 128 ? 1 : 0)) })
  }
  return [...drawn, ...painted]
}

/** Pixels with their middle inside a closed line. */
function filled(map: CheckInput['map'], zone: Outline): Uint8Array {
  const within = new Uint8Array(map.width * map.height)
  const [xs, ys] = [zone.map(([x]) => x), zone.map(([, y]) => y)]
  const box = {
    leftMm: Math.min(...xs),
    rightMm: Math.max(...xs),
    bottomMm: Math.min(...ys),
    topMm: Math.max(...ys),
  }
  forPixels(map, box, (i, x, y) => {
    const at = [((x + 0.5) / map.width) * map.widthMm, (1 - (y + 0.5) / map.height) * map.heightMm] as const
    if (inside(zone, ...at)) within[i] = 1
  })
  return within
}
