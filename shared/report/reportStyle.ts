// How the report looks on screen and on paper. Print first: black on white, no page break inside a finding.

export const reportStyle = `
:root{--ink:#26313a;--soft:#5d6870;--line:#d9d0bf;--paper:#fffdf8}
*{box-sizing:border-box}
body{margin:0 auto;max-width:190mm;padding:8mm 6mm;font:15px/1.45 Georgia,'Times New Roman',serif;color:var(--ink);background:var(--paper)}
h1{font-size:30px;margin:0}
h2{font-size:20px;margin:9mm 0 3mm;padding-bottom:1mm;border-bottom:2px solid var(--ink)}
h3{font-size:16px;margin:0 0 1mm;display:flex;gap:8px;align-items:center}
.sub,.rule,.source,.size,figcaption,.proposed{color:var(--soft);font-size:13px;font-weight:normal}
.rule{margin-left:auto;font-family:ui-monospace,monospace}
.tally{list-style:none;display:flex;flex-wrap:wrap;gap:6mm;padding:0;font-size:17px}
.tally li{display:flex;gap:6px;align-items:center}
.care{border-left:3px solid var(--line);padding-left:3mm;color:var(--soft);font-size:13px}
article{display:flex;gap:5mm;padding:4mm 0;border-bottom:1px solid var(--line);break-inside:avoid}
.words{flex:1 1 60%}.drawings{flex:0 1 66mm;display:flex;flex-direction:column;gap:2mm}
.sentence{font-size:16px;margin:1mm 0}
.numbers{margin:1mm 0;font-size:14px}.why{color:var(--soft);font-size:14px}
.remedies li{margin:1mm 0}
.follows{margin:2mm 0 0}
.warning{color:#9a4a00}
a{color:inherit}
.rule-text{border-bottom:1px solid var(--line);padding:2mm 0;font-size:14px}
.rule-text summary{cursor:pointer;font-size:15px;font-weight:bold}
.rule-text blockquote{margin:1mm 0 2mm;padding-left:3mm;border-left:3px solid var(--line)}
.rule-text table{border-collapse:collapse}.rule-text th,.rule-text td{text-align:left;vertical-align:top;padding:1mm 3mm 1mm 0;border-bottom:1px solid var(--line)}
figure{margin:0}svg.piece{max-width:100%;height:auto}
.pieces{display:flex;flex-wrap:wrap;gap:6mm;align-items:flex-end}
.seam{break-inside:avoid;margin:0 0 5mm}
svg.ruler{font-family:inherit}
.clear{columns:2;font-size:13px;color:var(--soft)}
@media print{body{padding:0;max-width:none;background:#fff}@page{margin:14mm}}
@media (max-width:640px){article{flex-direction:column}.clear{columns:1}}
`;
