import { useEffect, useMemo, useRef, useState } from 'react'
import type { MaterialMap } from '../../core/material/map.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { bakingsOf, distinctSources } from '../../core/reference/baking.ts'
import type { Scene } from '../../core/reference/scene.ts'
import type { SpotReading } from '../panels/probe/reading.ts'
import type { SpotPlace, Workshop } from './workshop.ts'

/** What the picture is drawn from: always a map and the tables that belong to it. */
export interface Drawn {
  readonly levels: readonly MaterialMap[]
  /** One set a spectrum of the scene's lamps. */
  readonly tables: readonly Tables[]
}

/** A hand that rests this long wants to read, ms. */
const restMs = 50

/** The newest map with its tables; the one before stays until both are ready. */
export function useDrawn(
  workshop: Workshop,
  scene: Scene,
  map: MaterialMap | null,
  failed: (error: unknown) => void,
): Drawn | null {
  const [drawn, setDrawn] = useState<Drawn | null>(null)
  const levels = useRef<{ of: MaterialMap; levels: Promise<readonly MaterialMap[]> } | null>(null)
  const { board, whiteInk, print, light } = scene
  // Lamps that only move keep their tables.
  const spectra = JSON.stringify(distinctSources(light).sources)
  // biome-ignore lint/correctness/useExhaustiveDependencies: of the light only its spectra count
  const bakings = useMemo(
    () => (map === null ? null : bakingsOf({ board, whiteInk, print, light }, map)),
    [board, whiteInk, print, spectra, map],
  )
  // biome-ignore lint/correctness/useExhaustiveDependencies: how a failure is said does not change what is drawn
  useEffect(() => {
    if (map === null || bakings === null) return setDrawn(null)
    let wanted = true
    if (levels.current?.of !== map) levels.current = { of: map, levels: workshop.levels(map) }
    Promise.all([levels.current.levels, workshop.tables(bakings)]).then(
      ([made, tables]) => {
        if (wanted) setDrawn({ levels: made, tables })
      },
      error => {
        if (wanted) failed(error)
      },
    )
    return () => {
      wanted = false
    }
  }, [workshop, map, bakings])
  return drawn
}

/** The reading of a spot, a moment after scene and spot came to rest. */
export function useReading(
  workshop: Workshop,
  drawn: Drawn | null,
  scene: Scene,
  spot: SpotPlace | null,
): SpotReading | null {
  const [reading, setReading] = useState<SpotReading | null>(null)
  const x = spot?.xMm ?? null
  const y = spot?.yMm ?? null
  useEffect(() => {
    if (drawn === null || x === null || y === null) return setReading(null)
    let wanted = true
    const timer = setTimeout(() => {
      workshop.reading(scene, { xMm: x, yMm: y }).then(
        found => {
          if (wanted) setReading(found)
        },
        // A spot that cannot be read is shown as such.
        () => {
          if (wanted) setReading(null)
        },
      )
    }, restMs)
    return () => {
      wanted = false
      clearTimeout(timer)
    }
  }, [workshop, drawn, scene, x, y])
  return reading
}
