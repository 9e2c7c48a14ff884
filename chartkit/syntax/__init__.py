"""Text to chart and chart to text: the one room that knows the chart language and Lark."""
