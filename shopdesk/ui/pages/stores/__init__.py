"""The Stores: what tasks need, orders and goods in, the shelf, outwork out and back, and the firms."""
