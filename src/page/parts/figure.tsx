import { useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { Chart, type Spec } from '../charts/chart-js.ts';
import { type Paint, paintNow } from '../charts/paint.ts';
import { usePage, useSpeech } from './context.ts';
import { saveBlob } from './save.ts';

/** A line of the key beside a chart. */
export interface KeyEntry {
  readonly label: string;
  readonly colour: keyof Paint;
  readonly shape: 'block' | 'line' | 'dashed' | 'outline' | 'stick';
}

interface FigureProps {
  /** What it shows, in a sentence, for those who do not see it. */
  readonly label: string;
  readonly name: string;
  readonly heightPx: number;
  readonly spec: (paint: Paint) => Spec;
  /** Changes when anything but the numbers does: then axes and labels are made anew too, which takes longer. */
  readonly look: string;
  /** A line of text for a place on the chart that is pointed at, as a part of the plot's width. */
  readonly read?: (part: number) => string;
  readonly legend: readonly KeyEntry[];
  readonly table: () => Table;
}

/** What stands behind a chart. */
export interface Table {
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** A chart with its key, the table behind it, and a button that saves the picture. */
export function Figure({ label, name, heightPx, spec, look, read, legend, table }: FigureProps) {
  const { speech, lightings } = usePage();
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<Chart | null>(null);
  const drawnLook = useRef('');
  const readout = useRef<HTMLParagraphElement>(null);
  const paint = useMemo(paintNow, [lightings]);
  const point = (event: PointerEvent): void => {
    const area = chart.current?.chartArea;
    if (read === undefined || area === undefined || readout.current === null) return;
    const part = (event.offsetX - area.left) / area.width;
    readout.current.textContent = part < 0 || part > 1 ? '' : read(part);
  };
  useLayoutEffect(() => {
    const wanted = spec(paint);
    if (chart.current === null) {
      if (canvas.current !== null) chart.current = new Chart(canvas.current, wanted as never);
      return;
    }
    const isSameLook =
      drawnLook.current === `${look} ${lightings}` && chart.current.data.datasets.length === wanted.data.datasets.length;
    drawnLook.current = `${look} ${lightings}`;
    if (isSameLook) {
      chart.current.data.labels = wanted.data.labels as never;
      wanted.data.datasets.forEach(({ data }, i) => {
        const dataset = chart.current?.data.datasets[i];
        if (dataset !== undefined) dataset.data = data as never;
      });
    } else {
      chart.current.data = wanted.data as never;
      chart.current.options = (wanted.options ?? {}) as never;
    }
    chart.current.update('none');
  }, [spec, paint]);
  useLayoutEffect(
    () => () => {
      chart.current?.destroy();
      chart.current = null;
    },
    [],
  );
  return (
    <figure class="chart">
      <ul class="key" aria-hidden="true">
        {legend.map(({ label: text, colour, shape }) => (
          <li key={text}>
            <span class={`swatch ${shape}`} style={{ '--swatch': `var(--${colour})` }} />
            {text}
          </li>
        ))}
      </ul>
      <div class="canvas" style={{ '--height': `${heightPx}px` }}>
        <canvas ref={canvas} role="img" aria-label={label} onPointerMove={point} onPointerDown={point} />
      </div>
      {read === undefined ? null : <p class="readout" ref={readout} aria-hidden="true" />}
      <div class="under">
        <TableBehind label={label} table={table} />
        <button type="button" class="quiet" onClick={() => canvas.current && void savePicture(canvas.current, `${name}.png`)}>
          {speech.words.outputs.picture}
          <span class="sr">: {label}</span>
        </button>
      </div>
    </figure>
  );
}

/** A table that opens on demand. What is closed is not made: a touch changes hundreds of cells that nobody sees. */
export function TableBehind({ label, table }: { readonly label: string; readonly table: () => Table }) {
  const { words } = useSpeech();
  const [open, setOpen] = useState(false);
  return (
    <details open={open} onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
      <summary>
        {words.promise.table}
        <span class="sr">: {label}</span>
      </summary>
      {open ? <TableOf table={table()} label={label} /> : null}
    </details>
  );
}

/** A table that scrolls sideways where it must. */
export function TableOf({ table, label }: { readonly table: Table; readonly label: string }) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: a section with a name would be a landmark, and a page of tables has too many
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be within reach of the keyboard
    <div role="group" class="scroll" tabIndex={0} aria-label={label}>
      <table>
        <thead>
          <tr>
            {table.heads.map((head) =>
              head === '' ? (
                <td key={head} />
              ) : (
                <th key={head} scope="col">
                  {head}
                </th>
              ),
            )}
          </tr>
        </thead>
        <tbody>
          {table.rows.map(([head, ...cells]) => (
            <tr key={head}>
              <th scope="row">{head}</th>
              {cells.map((cell, i) => (
                <td key={i}>{cell}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** A chart is see-through by nature; a picture gets paper under it. */
async function savePicture(canvas: HTMLCanvasElement, name: string): Promise<void> {
  const copy = document.createElement('canvas');
  copy.width = canvas.width;
  copy.height = canvas.height;
  const pen = copy.getContext('2d');
  if (pen === null) return;
  pen.fillStyle = paintNow().sheet;
  pen.fillRect(0, 0, copy.width, copy.height);
  pen.drawImage(canvas, 0, 0);
  const blob = await new Promise<Blob | null>((resolve) => copy.toBlob(resolve, 'image/png'));
  if (blob !== null) saveBlob(blob, name);
}
