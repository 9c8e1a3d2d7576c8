import { useEffect, useMemo, useRef, useState } from 'react'
import type { Motions } from '../../core/checks/register/groups.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import type { Baking } from '../../core/optics/bake.ts'
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
  /** How groups of plates lie beside where the map has them. */
  readonly motions: Motions
}

/** A hand that rests this long wants to read, ms. */
const restMs = 50

/** The newest map with its tables; the one before stays until both are ready. Groups of plates move at once. */
export function useDrawn(
  workshop: Workshop,
  scene: Scene,
  levels: readonly MaterialMap[] | null,
  motions: Motions,
  failed: (error: unknown) => void,
): Drawn | null {
  const [drawn, setDrawn] = useState<Omit<Drawn, 'motions'> | null>(null)
  const [slipped, setSlipped] = useState(motions)
  const made = useRef<{ of: readonly Baking[]; tables: Promise<readonly Tables[]> } | null>(null)
  const map = levels?.[0] ?? null
  const { board, whiteInk, print, light } = scene
  // Lamps that only move keep their tables, and so does a map whose plates and grooves are the same.
  const key = JSON.stringify([
    distinctSources(light).sources,
    board,
    whiteInk,
    print.toneGain,
    map && [map.whites, map.spots, map.grooves],
  ])
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key spells out all that tables are made for
  const bakings = useMemo(
    () => (map === null ? null : bakingsOf({ board, whiteInk, print, light }, map)),
    [key, map?.print],
  )
  // biome-ignore lint/correctness/useExhaustiveDependencies: how a failure is said does not change what is drawn
  useEffect(() => {
    if (levels === null || bakings === null) return setDrawn(null)
    let wanted = true
    workshop.show(levels)
    if (made.current?.of !== bakings) made.current = { of: bakings, tables: workshop.tables(bakings) }
    made.current.tables.then(
      tables => {
        if (wanted) setDrawn({ levels, tables })
      },
      error => {
        if (wanted) failed(error)
      },
    )
    return () => {
      wanted = false
    }
  }, [workshop, levels, bakings])
  useEffect(() => {
    // Before anything is read of the picture that shows them.
    workshop.slip(motions)
    setSlipped(motions)
  }, [workshop, motions])
  return useMemo(() => (drawn === null ? null : { ...drawn, motions: slipped }), [drawn, slipped])
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
