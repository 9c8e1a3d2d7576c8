import type { DrawTool } from '../../state/state.ts'

interface Props {
  readonly tool: DrawTool | null
  readonly onTool: (tool: DrawTool | null) => void
  readonly onMiddle: () => void
  readonly onImport: () => void
  readonly onMap: (() => void) | null
}

const tools: readonly { readonly tool: DrawTool; readonly title: string; readonly path: string }[] = [
  { tool: 'rectangle', title: 'Rectangle', path: 'M3 5h18v14H3z' },
  { tool: 'ellipse', title: 'Ellipse', path: 'M3 12a9 7 0 1 0 18 0a9 7 0 1 0-18 0z' },
  { tool: 'polygon', title: 'Polygon', path: 'M4 8l9-4l7 8l-5 8l-10-3z' },
]

/** How an area is made: drawn on the panel, put into its middle, or taken from a drawing. */
export function DrawButtons({ tool, onTool, onMiddle, onImport, onMap }: Props) {
  return (
    <div className="draw-buttons">
      <fieldset className="draw-tools">
        <legend className="unseen">Draw an area on the picture</legend>
        {tools.map(one => (
          <button
            key={one.tool}
            type="button"
            className="plain"
            aria-pressed={tool === one.tool}
            title={`Draw: ${one.title.toLowerCase()}`}
            onClick={() => onTool(tool === one.tool ? null : one.tool)}
          >
            <svg viewBox="0 0 24 24" aria-hidden="true">
              <path d={one.path} />
            </svg>
            {one.title}
          </button>
        ))}
      </fieldset>
      <button
        type="button"
        className="plain small"
        title="A rectangle in the middle of the panel, to be moved by its numbers"
        onClick={onMiddle}
      >
        Put one in the middle
      </button>
      <button
        type="button"
        className="plain small"
        title="Closed paths of an SVG, in their own millimetres"
        onClick={onImport}
      >
        From an SVG…
      </button>
      {onMap === null ? null : (
        <button
          type="button"
          className="plain small"
          title="All areas in flat colours with a legend, as an SVG for a meeting"
          onClick={onMap}
        >
          Save a picture of all
        </button>
      )}
    </div>
  )
}
