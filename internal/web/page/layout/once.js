// A form is not sent twice by a double click, which would record a weight or a
// skein twice. After a few seconds a press is meant, such as after a stopped load.
"use strict";
{
  const sent = new WeakMap();
  addEventListener("submit", (event) => {
    const by = event.submitter, method = by && by.getAttribute("formmethod") || event.target.method;
    if (event.defaultPrevented || method.toLowerCase() !== "post") return;
    if (event.timeStamp - sent.get(event.target) < 4000) event.preventDefault();
    else sent.set(event.target, event.timeStamp);
  });
}
