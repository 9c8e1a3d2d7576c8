import { overBands } from '../../core/color/over-screen.ts'

/** What the hatching on the panel means. */
export function OverLegend() {
  return (
    <section className="over-legend" aria-label="What the screen cannot show">
      <strong>Over paper white</strong>
      {overBands.map((from, i) => {
        const to = overBands[i + 1]
        return (
          <span key={from}>
            <span className={`hatch hatch-${i + 1}`} aria-hidden="true" />
            {to === undefined
              ? `more than ${from} stops`
              : i === 0
                ? `to ${to} stop`
                : `${from} to ${to} stops`}
          </span>
        )
      })}
      <span>
        <span className="hatch hatch-5" aria-hidden="true" />
        outside the screen’s colours
      </span>
    </section>
  )
}
