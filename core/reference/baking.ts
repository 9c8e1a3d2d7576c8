import { illuminantWhite, type LightSource } from '../color/spectrum.ts'
import type { XYZ } from '../color/xyz.ts'
import type { MaterialMap } from '../material/map.ts'
import type { Baking } from '../optics/bake.ts'
import type { Printing } from '../optics/print.ts'
import { type Scene, sourceOf, totalLux } from './scene.ts'

/**
 * What a picture's tables are made for. Lamp, pose and view are not part of it: tables stay good while those move.
 * @param illuminant of the lamp that the tables are for
 */
export function bakingOf(
  { board, whiteInk, print }: Pick<Scene, 'board' | 'whiteInk' | 'print'>,
  illuminant: LightSource,
  map: Pick<MaterialMap, 'whites' | 'spots' | 'grooves' | 'print'>,
): Baking {
  return {
    illuminant,
    board: {
      waviness: board.wavinessMrad / 1000,
      glossRoughness: board.glossRoughness,
      cell: board.cellUm,
      lacquerIndex: board.coatIndex,
      readFrom: board.readFrom,
      microRoughness: board.microRoughnessNm,
      hazeSpread: board.hazeSpread,
      tint: board.tint?.lab ?? null,
      varnishRoughness: board.varnishRoughness,
      varnishScatter: board.varnishScatterMrad / 1000,
      forwardness: whiteInk.forwardness,
    },
    grooves: map.grooves,
    whites: map.whites,
    spots: map.spots,
    printing: printingOf(print, map),
  }
}

/** How the inks of a scene print on a map. */
export function printingOf(
  { toneGain }: Pick<Scene['print'], 'toneGain'>,
  { print }: Pick<MaterialMap, 'print'>,
): Printing {
  return { condition: print ?? null, toneGain }
}

/**
 * The different spectra among a scene's lamps that burn, in order of first use, and for each lamp the index of its own;
 * a dark lamp has that of the first.
 */
export function distinctSources({ lamps }: Pick<Scene['light'], 'lamps'>): {
  readonly sources: readonly LightSource[]
  readonly setOf: readonly number[]
} {
  const keys: string[] = []
  const sources: LightSource[] = []
  const setOf = lamps.map(lamp => {
    if (!(lamp.lux > 0)) return 0
    const source = sourceOf(lamp)
    const key = JSON.stringify(source)
    const known = keys.indexOf(key)
    if (known >= 0) return known
    keys.push(key)
    return sources.push(source) - 1
  })
  return { sources, setOf }
}

/** What the tables of all lamps of a scene are made for, one a spectrum: see {@link distinctSources}. */
export function bakingsOf(
  scene: Parameters<typeof bakingOf>[0] & Pick<Scene, 'light'>,
  map: Parameters<typeof bakingOf>[2],
): readonly Baking[] {
  return distinctSources(scene.light).sources.map(source => bakingOf(scene, source, map))
}

/** X, Y, Z of perfect white in the middle of the untilted panel under all lamps together; Y = 1. */
export function sceneWhite({ light }: Pick<Scene, 'light'>): XYZ {
  const total = totalLux(light)
  const white: [number, number, number] = [0, 0, 0]
  for (const lamp of light.lamps) {
    if (!(lamp.lux > 0)) continue
    const own = illuminantWhite(sourceOf(lamp))
    for (let c = 0; c < 3; c++) white[c]! += (lamp.lux / total) * own[c]!
  }
  return white
}
