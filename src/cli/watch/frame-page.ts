import { createHash } from "node:crypto";

const STYLE = `html,body{height:100%;margin:0}
body{display:flex;flex-direction:column;font:1rem/1.5 system-ui,sans-serif;color:#1d2a30;background:#fff}
#state{margin:0;padding:.4rem 1rem;background:#e8ecee;border-bottom:1px solid #55626a}
#fault{margin:0;padding:.8rem 1rem;max-height:45%;overflow:auto;white-space:pre-wrap;font:.95rem/1.5 monospace;border-bottom:3px solid #1d2a30}
iframe{flex:1;border:0;width:100%}`;

/** Reads what the command says and shows the report anew after each run, at the place where it was being read. */
const SCRIPT = `const [state, fault, frame] = ["state", "fault", "report"].map((id) => document.getElementById(id));
let shown = 0;
const told = new EventSource("told");
told.onmessage = ({ data }) => {
  const { run, words, failed } = JSON.parse(data);
  state.textContent = words;
  fault.hidden = failed === "";
  fault.textContent = failed;
  if (run === shown) return;
  if (shown === 0) frame.src = "report/index.html";
  else frame.contentWindow.location.reload();
  shown = run;
};
told.onerror = () => {
  state.textContent = "The command has ended. What is shown is its last report.";
};`;

/** The one script and the one style of the page by their hashes; the report in the frame keeps its own policy. */
export const FRAME_POLICY = [
  "default-src 'none'",
  `script-src '${hashOf(SCRIPT)}'`,
  `style-src '${hashOf(STYLE)}'`,
  "connect-src 'self'",
  "frame-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join("; ");

/** The page around the report: what the command is doing, why a run failed, and the last report that was made. */
export const FRAME_PAGE = `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Mantle: notebook being watched</title>
<style>${STYLE}</style>
</head>
<body>
<p id="state" role="status">The report is being made.</p>
<pre id="fault" role="alert" tabindex="0" hidden></pre>
<iframe id="report" title="Report of the notebook"></iframe>
<script>${SCRIPT}</script>
</body>
</html>
`;

function hashOf(text: string): string {
  return `sha256-${createHash("sha256").update(text).digest("base64")}`;
}
