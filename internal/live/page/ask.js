// Requests to the server that served the page.

// ask posts a question and returns the answer. It throws where there is none.
export async function ask(path, question, signal) {
  const r = await post(path, question, signal);
  if (r.status === 204) return null;
  return r.json();
}

// follow posts a question whose answer comes in lines, and calls told with each.
export async function follow(path, question, signal, told) {
  const r = await post(path, question, signal);
  if (!r.headers.get("Content-Type").includes("ndjson")) {
    told(await r.json());
    return;
  }
  const reader = r.body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    const lines = (rest + value).split("\n");
    rest = lines.pop();
    for (const line of lines) told(JSON.parse(line));
  }
}

function post(path, question, signal) {
  return fetch(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(question), signal });
}
