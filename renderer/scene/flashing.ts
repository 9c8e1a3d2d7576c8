import { useEffect, useRef, useState } from 'react'
import { Cancelled } from '../../core/base/task.ts'
import { calmed } from '../../core/job/flash-path.ts'
import type { Job, LampPath } from '../../core/job/job.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import type { FlashStretch } from '../../core/reference/flash.ts'
import type { FlashVerdict } from '../panels/track/FlashLine.tsx'
import { countFlashes } from './countFlashes.ts'
import type { Workshop } from './workshop.ts'

/** A run plays this long before its flashes are counted, ms. */
const restMs = 900

/** The flashes of a run, and what can be done about them. */
export interface Flashes {
  readonly verdict: FlashVerdict
  readonly judge: () => void
  readonly stop: () => void
  /** Slows the run until it passes; `done` gets it, and whether it does. */
  readonly damp: (done: (path: LampPath, passes: boolean) => void) => void
}

/**
 * Counts the flashes of a run once it is played (`active`), or when asked. What is found holds until the
 * run, the light or the map changes.
 */
export function useFlashes(
  workshop: Workshop,
  map: MaterialMap | null,
  job: Job,
  path: LampPath | undefined,
  active: boolean,
): Flashes {
  const [verdict, setVerdict] = useState<FlashVerdict>({ state: 'unknown' })
  const running = useRef({ wanted: false })
  /** Keys that damping has brought within bounds: they need no second count. */
  const passed = useRef<LampPath['keys'] | null>(null)
  const { board, whiteInk, print, light } = job
  // What a run overrides, or only the window changes, is no part of it.
  const { pose: _, ...view } = job.view
  const key = JSON.stringify([path?.keys, path?.loop, light, view, board, whiteInk, print])
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key says all that a run's pictures depend on
  useEffect(() => {
    const calm = path !== undefined && path.keys === passed.current
    // Under other light the same keys are to be counted anew.
    passed.current = null
    setVerdict(calm ? { state: 'judged', stretches: [] } : { state: 'unknown' })
    return () => {
      running.current.wanted = false
    }
  }, [map, key])
  const known = verdict.state !== 'unknown'
  // biome-ignore lint/correctness/useExhaustiveDependencies: counted once for what the key says
  useEffect(() => {
    if (!active || known || map === null) return
    const timer = setTimeout(judge, restMs)
    return () => clearTimeout(timer)
  }, [active, known, map, key])
  return { verdict, judge, stop, damp }

  function begin(damping: boolean) {
    running.current.wanted = false
    const mine = { wanted: true }
    running.current = mine
    return {
      wanted: () => mine.wanted,
      progress: (done: number) => {
        if (mine.wanted) setVerdict({ state: 'judging', done, damping })
      },
      end: (stretches: readonly FlashStretch[] | null) => {
        if (mine.wanted)
          setVerdict(stretches === null ? { state: 'unknown' } : { state: 'judged', stretches })
        mine.wanted = false
      },
    }
  }

  function judge(): void {
    if (path === undefined || map === null) return
    const turn = begin(false)
    flashesOf(workshop, job, path, turn.wanted, turn.progress).then(turn.end, () => turn.end(null))
  }

  function stop(): void {
    running.current.wanted = false
    setVerdict({ state: 'unknown' })
  }

  function damp(done: (path: LampPath, passes: boolean) => void): void {
    if (path === undefined || map === null) return
    const turn = begin(true)
    calmed(path, tried => flashesOf(workshop, job, tried, turn.wanted, turn.progress)).then(
      found => {
        turn.end(null)
        if (found === null) return
        const passes = found.left.length === 0
        passed.current = passes ? found.path.keys : null
        done(found.path, passes)
      },
      () => turn.end(null),
    )
  }
}

/** Null when it was given up. */
async function flashesOf(
  workshop: Workshop,
  job: Job,
  path: LampPath,
  wanted: () => boolean,
  progress: (done: number) => void,
): Promise<readonly FlashStretch[] | null> {
  const giveUp = new AbortController()
  const task = {
    signal: giveUp.signal,
    progress: (done: number) => {
      if (wanted()) progress(done)
      else giveUp.abort()
    },
  }
  return countFlashes(workshop.flash, job, path, task).then(
    found => (wanted() ? found : null),
    error => {
      if (error instanceof Cancelled) return null
      throw error
    },
  )
}
